/** Owns what the server knows of a certificate. Instants are those of the wall clock, as a certificate's are. */
import { X509Certificate } from 'node:crypto';

export interface Certificate {
  /** PEM. */
  readonly cert: string;
  readonly key: string;
  readonly own: boolean;
  /** SHA-256, as browsers show it. */
  readonly fingerprint: string;
  readonly untilMs: number;
  /** The DNS names in it, without those with a star. */
  readonly names: readonly string[];
  /** Signed by somebody whom a browser may know, and not ended: only then may it promise to stay. */
  readonly vouched: boolean;
}

export const DAY_MS = 24 * 3_600_000;
/** One that is given is spoken of so long before its end; one of our own is made anew. */
export const RENEW_BEFORE_MS = 30 * DAY_MS;

/** DNS names of a certificate, in small letters (RFC 5280 section 4.2.1.6). */
export const namesIn = (x: X509Certificate): string[] =>
  (x.subjectAltName ?? '').split(', ').filter((n) => n.startsWith('DNS:')).map((n) => n.slice(4).toLowerCase());

export function certificateOf(cert: string, key: string, own: boolean, nowMs: number): Certificate {
  const x = new X509Certificate(cert);
  const untilMs = Date.parse(x.validTo);
  return {
    cert, key, own, untilMs,
    fingerprint: x.fingerprint256,
    names: namesIn(x).filter((n) => !n.includes('*')),
    vouched: !own && !x.checkIssued(x) && nowMs < untilMs,
  };
}
