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

/** Every name of this machine, in small letters. @param given names that the studio gave, such as that of a balancer in front of this server */
export function ownNames(given: readonly string[], own: string = hostname()): string[] {
  const mine = own.toLowerCase();
  return [...new Set(['localhost', mine, `${mine.split('.')[0]}.local`, 'hallclock.local', ...given.map((n) => n.toLowerCase())])];
}

export function knownNames(given: readonly string[], own: string = hostname()): Known {
  const names = new Set(ownNames(given, own));
  return (host) => {
    const name = nameIn(host);
    return name !== null && (isIP(name) !== 0 || names.has(name));
  };
}

/**
 * Whether a page of this origin was given out by this very server. No origin: not a page of another site.
 * @param secure under TLS a page that came in the clear is not ours: anybody on the way may have written it
 */
export function sameOrigin(origin: string | undefined, host: string | undefined, secure = false): boolean {
  if (origin === undefined) return true;
  try {
    const from = new URL(origin);
    return from.host === host && (!secure || from.protocol === 'https:');
  } catch {
    return false;
  }
}
