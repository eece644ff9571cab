/**
 * Owns by which names this server may be called. A page of another site can make a name
 * of its own lead to this machine and then speak to it as if it were its own (DNS
 * rebinding); it cannot do so with an address. So every address is let in, and of names
 * only those of this machine and those that the studio gave.
 */
import { isIP } from 'node:net';
import { hostname } from 'node:os';

export type Known = (host: string | undefined) => boolean;

/** The name in a Host header, without port, brackets and the last dot, in small letters; null where it is none. */
export function nameIn(host: string | undefined): string | null {
  if (host === undefined || host === '' || /[\s/\\@?#]/.test(host)) return null;
  try {
    return new URL(`http://${host}`).hostname.replace(/^\[|\]$/g, '').replace(/\.$/, '').toLowerCase();
  } catch {
    return null;
  }
}

/** @param given names that the studio gave, such as that of a balancer in front of this server */
export function knownNames(given: readonly string[], own: string = hostname()): Known {
  const mine = own.toLowerCase();
  const names = new Set(['localhost', mine, `${mine.split('.')[0]}.local`, 'hallclock.local', ...given.map((n) => n.toLowerCase())]);
  return (host) => {
    const name = nameIn(host);
    return name !== null && (isIP(name) !== 0 || names.has(name));
  };
}

/** Whether a page of this origin was given out by this very server. No origin: not a page of another site. */
export function sameOrigin(origin: string | undefined, host: string | undefined): boolean {
  if (origin === undefined) return true;
  try {
    return new URL(origin).host === host;
  } catch {
    return false;
  }
}
