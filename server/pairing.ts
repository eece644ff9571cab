/**
 * Owns how a phone becomes one that may command: the six digits that a screen
 * shows, how often they may be guessed, and the tokens that phones keep. Chance
 * and time are handed in. Leaves alone where it is shown and how it is asked.
 */
import { createHash } from 'node:crypto';
import { PAIRING_CODE_MS, PAIRING_FREE_TRIES, PAIRING_FREE_TRIES_IN_ALL, PAIRING_WAIT_MOST_MS } from '../shared/limits.ts';
import { after, between, type ServerAt } from '../shared/time/units.ts';

export type Redeemed = { readonly room: string } | { readonly wrong: true } | { readonly waitMs: number };

export interface Codes {
  /** The code that a room's screens show now; a new one when the last is used or too old. */
  readonly of: (room: string, now: ServerAt) => { readonly code: string; readonly until: ServerAt };
  readonly redeem: (code: string, address: string, now: ServerAt) => Redeemed;
}

interface Tries { readonly count: number; readonly at: ServerAt }

/** After this long without a wrong code an address starts afresh. */
const FORGIVEN_MS = PAIRING_CODE_MS;

/** 1 s after the first try too many, then twice as long each time. */
const waitAfter = ({ count }: Tries, free: number): number =>
  count < free ? 0 : Math.min(PAIRING_WAIT_MOST_MS, 1_000 * 2 ** (count - free));

/** @param digits six digits, by chance that nobody can guess */
export function openCodes(digits: () => string): Codes {
  const codes = new Map<string, { code: string; until: ServerAt }>();
  const tries = new Map<string, Tries>();
  let all: Tries | null = null;

  const fresh = (t: Tries | null | undefined, now: ServerAt): Tries | null => (t && between(t.at, now) < FORGIVEN_MS ? t : null);
  const leftMs = (t: Tries | null, free: number, now: ServerAt): number => (t ? waitAfter(t, free) - between(t.at, now) : 0);

  return {
    of: (room, now) => {
      const known = codes.get(room);
      if (known && now < known.until) return known;
      let code = digits();
      while ([...codes.values()].some((c) => c.code === code)) code = digits();
      const made = { code, until: after(now, PAIRING_CODE_MS) };
      codes.set(room, made);
      return made;
    },
    redeem: (code, address, now) => {
      const mine = fresh(tries.get(address), now);
      all = fresh(all, now);
      const waitMs = Math.max(leftMs(mine, PAIRING_FREE_TRIES, now), leftMs(all, PAIRING_FREE_TRIES_IN_ALL, now));
      if (waitMs > 0) return { waitMs };
      const found = [...codes].find(([, c]) => c.code === code && now < c.until);
      if (found) {
        codes.delete(found[0]);
        tries.delete(address);
        return { room: found[0] };
      }
      for (const [known, t] of tries) if (!fresh(t, now)) tries.delete(known);
      tries.set(address, { count: (mine?.count ?? 0) + 1, at: now });
      all = { count: (all?.count ?? 0) + 1, at: now };
      if (all.count % PAIRING_FREE_TRIES_IN_ALL === 0) codes.clear();
      return { wrong: true };
    },
  };
}

/** What is kept of a token; from it nobody can make the token again. */
export const hashOf = (token: string): string => createHash('sha256').update(token).digest('base64url');

/** What a phone is called before other phones; nobody can make its token of it. */
export const publicName = (token: string): string => hashOf(token).slice(0, 8);

export const COOKIE = 'hallclock';

/** The token that a browser sends with everything, out of its Cookie header. */
export function tokenIn(cookies: string | undefined): string | null {
  const found = (cookies ?? '').split(';').map((c) => c.trim()).find((c) => c.startsWith(`${COOKIE}=`))?.slice(COOKIE.length + 1);
  return found && /^[\w-]{22}$/.test(found) ? found : null;
}

/** Which rooms a token may command; kept in memory, written through by the caller. */
export function openPhones(stored: readonly { token: string; room: string }[]) {
  const rooms = new Map<string, Set<string>>();
  const add = (hash: string, room: string) => { rooms.set(hash, (rooms.get(hash) ?? new Set()).add(room)); };
  for (const { token, room } of stored) add(token, room);
  return {
    add,
    may: (token: string | null, room: string): boolean => token !== null && (rooms.get(hashOf(token))?.has(room) ?? false),
    known: (token: string | null): boolean => token !== null && rooms.has(hashOf(token)),
  };
}
export type Phones = ReturnType<typeof openPhones>;
