/**
 * Owns which certificate the server shows, if any: one that the studio gave, or one of its own
 * making; and looking again once a day whether it has been renewed or has to be. Leaves alone
 * what is done with it (front.ts).
 */
import { X509Certificate } from 'node:crypto';
import type { Settings } from '../settings.ts';
import { type Certificate, DAY_MS } from './certificate.ts';
import { givenCertificate } from './given.ts';
import { ownCertificate } from './own.ts';

/** Null where the studio speaks plain HTTP. Rejects with a sentence where what was given cannot be used. */
export async function openCertificate({ tls, data, names }: Settings, nowMs: number, warn: (sentence: string) => void): Promise<Certificate | null> {
  if (tls.how === 'none') return null;
  if (tls.how === 'own') return ownCertificate(data, names, nowMs, warn);
  const given = await givenCertificate(tls.cert, tls.key, nowMs, warn);
  const x = new X509Certificate(given.cert);
  // One with a star says no name; of those that the studio gave it may vouch for some.
  return { ...given, names: [...given.names, ...names.filter((n) => !given.names.includes(n) && x.checkHost(n) !== undefined)] };
}

/**
 * Looks once a day. A certificate that was renewed is shown from then on, without a restart;
 * one that cannot be read is left and the last one stays.
 * @returns the way to stop
 */
export function keepCertificate(settings: Settings, first: Certificate, wallMs: () => number, warn: (sentence: string) => void, renewed: (next: Certificate) => void): () => void {
  let shown = first;
  const look = async () => {
    try {
      const next = await openCertificate(settings, wallMs(), warn);
      if (next === null || next.fingerprint === shown.fingerprint) return;
      shown = next;
      renewed(next);
    } catch (error) {
      warn(`${(error as Error).message} The certificate that was read before stays.`);
    }
  };
  const each = setInterval(() => void look(), DAY_MS);
  each.unref();
  return () => clearInterval(each);
}
