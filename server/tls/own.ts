/**
 * Owns the certificate that the server makes for itself: for the names and addresses of this
 * machine, kept in tls/ of the data folder where only its user may read it, made anew before it
 * ends or when the machine is called otherwise. Nobody vouches for it: a browser warns.
 */
import { createPrivateKey, X509Certificate } from 'node:crypto';
import { mkdir, readFile } from 'node:fs/promises';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { ownNames } from '../door/names.ts';
import { writeWhole } from '../files/files.ts';
import { type Certificate, certificateOf, DAY_MS, RENEW_BEFORE_MS } from './certificate.ts';

export const TLS_FOLDER = 'tls';
/** Under the 398 days that browsers take at most (CA/Browser Forum ballot SC-31, from memory). */
const LASTS_MS = 397 * DAY_MS;
/** A device whose clock is a little behind takes it too. */
const BEFORE_MS = DAY_MS;

/** Addresses of this machine that last: those that privacy changes every day (RFC 8981) cannot be told apart, so of IPv6 only its own. */
export const ownAddresses = (): string[] => ['127.0.0.1', '::1', ...Object.values(networkInterfaces()).flatMap((list) => list ?? [])
  .filter((a) => a.family === 'IPv4' && !a.internal).map((a) => a.address)];

/** Times in a certificate have no fractions (RFC 5280 section 4.1.2.5). */
const wholeSecond = (ms: number): Date => new Date(Math.floor(ms / 1_000) * 1_000);

const readBoth = async (folder: string): Promise<[string, string] | null> => {
  try {
    return [await readFile(join(folder, 'cert.pem'), 'utf8'), await readFile(join(folder, 'key.pem'), 'utf8')];
  } catch {
    return null;
  }
};

/** Whether it can be shown: its key is its own, it lasts a while, and it says every name. */
function usable([cert, key]: [string, string], names: readonly string[], addresses: readonly string[], nowMs: number): boolean {
  try {
    const x = new X509Certificate(cert);
    return x.checkPrivateKey(createPrivateKey(key)) && Date.parse(x.validFrom) <= nowMs && nowMs < Date.parse(x.validTo) - RENEW_BEFORE_MS
      && names.every((n) => x.checkHost(n) !== undefined) && addresses.every((a) => x.checkIP(a) !== undefined);
  } catch {
    return false;
  }
}

async function make(names: readonly string[], addresses: readonly string[], nowMs: number): Promise<[string, string]> {
  // Read only by those who ask for a certificate.
  const { generate } = (await import('selfsigned')).default;
  const made = await generate([{ name: 'commonName', value: 'Hallclock' }], {
    keyType: 'ec', curve: 'P-256', algorithm: 'sha256',
    notBeforeDate: wholeSecond(nowMs - BEFORE_MS), notAfterDate: wholeSecond(nowMs + LASTS_MS),
    extensions: [
      // Whoever trusts it trusts this machine, and nothing that it might sign.
      { name: 'basicConstraints', cA: false, critical: true },
      { name: 'keyUsage', digitalSignature: true, critical: true },
      { name: 'extKeyUsage', serverAuth: true },
      { name: 'subjectAltName', altNames: [...names.map((value) => ({ type: 2 as const, value })), ...addresses.map((ip) => ({ type: 7 as const, ip }))] },
    ],
  });
  return [made.cert, made.private];
}

/** Rejects with a sentence where it cannot be written. @param given names of the studio beside the machine's */
export async function ownCertificate(data: string, given: readonly string[], nowMs: number, warn: (sentence: string) => void, addresses: readonly string[] = [...new Set(ownAddresses())]): Promise<Certificate> {
  const folder = join(data, TLS_FOLDER);
  const names = ownNames(given);
  const kept = await readBoth(folder);
  if (kept && usable(kept, names, addresses, nowMs)) return certificateOf(...kept, true, nowMs);
  const [cert, key] = await make(names, addresses, nowMs);
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    await writeWhole(folder, 'key.pem', key, 0o600);
    await writeWhole(folder, 'cert.pem', cert, 0o600);
  } catch (error) {
    throw new Error(`The certificate could not be written to ${folder}: ${(error as Error).message}. Let the server write there, or leave HALLCLOCK_TLS out.`);
  }
  if (kept) warn('The certificate was made anew: it was about to end, was damaged, or this machine has another name or address. Every device has to accept it once more.');
  return certificateOf(cert, key, true, nowMs);
}
