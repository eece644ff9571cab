/** Owns the address by which other devices in the studio's network reach this server. */
import { networkInterfaces } from 'node:os';

/** Addresses that home and studio routers give out come first. */
const likely = (address: string): number =>
  address.startsWith('192.168.') ? 0 : address.startsWith('10.') ? 1 : /^172\.(1[6-9]|2\d|3[01])\./.test(address) ? 2 : 3;

export interface Address {
  /** As a person types it: "192.168.1.20:8080". */
  readonly typed: string;
  /** As a link begins: "http://192.168.1.20:8080". */
  readonly origin: string;
}

export interface Found extends Address {
  /** The same by its short name, while that leads here: "hallclock.local:8080". */
  readonly short?: string;
}

/** @param name null where none leads here */
export function withShortName(address: Address, name: string | null, certificate: { readonly own: boolean } | null): Found {
  // A name for which somebody vouches is the only one under which no browser warns.
  if (name === null || (certificate && !certificate.own)) return address;
  const { protocol, port } = new URL(address.origin);
  const named = port === '' ? name : `${name}:${port}`;
  return { ...address, short: protocol === 'https:' && port === '' ? `https://${named}` : named };
}

/**
 * Where other devices find this server; this machine's own name for itself where it has no network.
 * @param certificate what is shown under TLS: the name for which somebody vouches is better than an address
 */
export function addressOf(port: number, certificate: { readonly own: boolean; readonly names: readonly string[] } | null): Address {
  const addresses = Object.values(networkInterfaces()).flatMap((list) => list ?? [])
    .filter((a) => a.family === 'IPv4' && !a.internal && !a.address.startsWith('169.254.'))
    .map((a) => a.address)
    .sort((a, b) => likely(a) - likely(b));
  const host = (certificate && !certificate.own ? certificate.names[0] : undefined) ?? addresses[0] ?? 'localhost';
  const named = port === (certificate ? 443 : 80) ? host : `${host}:${port}`;
  const origin = `${certificate ? 'https' : 'http'}://${named}`;
  // Typed without https, a browser may ask at port 80, where nobody is.
  return { origin, typed: certificate && named === host ? origin : named };
}
