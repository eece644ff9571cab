/**
 * Owns how a phone becomes one that may command: the six digits that a screen
 * shows, how often they may be guessed, and the tokens that phones keep. Chance
 * and time are handed in. Leaves alone where it is shown and how it is asked.
 */
import { createHash } from 'node:crypto';
import { PAIRING_CODE_MS, PHONE_LASTS_MS } from '../shared/limits.ts';
import { after, type ServerAt } from '../shared/time/units.ts';
import { openTries } from './access/tries.ts';

export type Redeemed = { readonly room: string } | { readonly wrong: true } | { readonly waitMs: number };

export interface Codes {
  /** The code that a room's screens show now; a new one when the last is used or too old. */
  readonly of: (room: string, now: ServerAt) => { readonly code: string; readonly until: ServerAt };
  readonly redeem: (code: string, address: string, now: ServerAt) => Promise<Redeemed>;
  /** Another server has used it up; the room that showed it, null where it was not ours. */
  readonly used: (code: string) => string | null;
}

/** Where servers share their codes; each may be used once, at any of them. */
export interface SharedCodes {
  readonly made: (code: string, room: string, until: ServerAt) => void;
  readonly dropped: (code: string) => void;
  /** Takes a code away for everybody; null where it was gone. Rejects where that cannot be known. */
  readonly take: (code: string) => Promise<{ readonly room: string; readonly until: ServerAt } | null>;
}

/** @param digits six digits, by chance that nobody can guess */
export function openCodes(digits: () => string, shared?: SharedCodes): Codes {
  const codes = new Map<string, { code: string; until: ServerAt }>();
  const tries = openTries();
  /** One at a time from an address, so that guesses are counted before the next. */
  const asking = new Set<string>();

  return {
    of: (room, now) => {
      const known = codes.get(room);
      if (known && now < known.until) return known;
      let code = digits();
      while ([...codes.values()].some((c) => c.code === code)) code = digits();
      const made = { code, until: after(now, PAIRING_CODE_MS) };
      codes.set(room, made);
      if (known) shared?.dropped(known.code);
      shared?.made(code, room, made.until);
      return made;
    },
    redeem: async (code, address, now) => {
      const waitMs = tries.waitMs(address, now);
      if (waitMs > 0) return { waitMs };
      if (asking.has(address)) return { waitMs: 1_000 };
      const own = [...codes].find(([, c]) => c.code === code && now < c.until)?.[0];
      if (own !== undefined) codes.delete(own);
      // What cannot be asked cannot be written down either, which whoever pairs is told.
      const mine = own === undefined ? null : { room: own, until: now };
      if (shared) asking.add(address);
      const taken = shared ? await shared.take(code).catch(() => mine) : mine;
      asking.delete(address);
      if (taken && (taken === mine || now < taken.until)) {
        tries.right(address);
        return { room: taken.room };
      }
      if (tries.wrong(address, now)) {
        for (const c of codes.values()) shared?.dropped(c.code);
        codes.clear();
      }
      return { wrong: true };
    },
    used: (code) => {
      const room = [...codes].find(([, c]) => c.code === code)?.[0] ?? null;
      if (room !== null) codes.delete(room);
      return room;
    },
  };
}

/** What is kept of a token; from it nobody can make the token again. */
export const hashOf = (token: string): string => createHash('sha256').update(token).digest('base64url');

/** What a phone is called before other phones; nobody can make its token of it. */
export const publicName = (token: string): string => hashOf(token).slice(0, 8);

export const COOKIE = 'hallclock';
/** Of a browser that gave the desk's password. */
export const DESK_COOKIE = 'hallclock-desk';

/** Under TLS a browser takes this name from nobody but this very server, and sends it nowhere else (RFC 6265bis section 4.1.3.2). */
export const cookieName = (name: string, secure: boolean): string => (secure ? `__Host-${name}` : name);

/** The token that a browser sends with everything, out of its Cookie header; one that came under TLS goes before one that came in the clear. */
export function tokenIn(cookies: string | undefined, name: string = COOKIE): string | null {
  const all = (cookies ?? '').split(';').map((c) => c.trim());
  const found = [cookieName(name, true), name].map((n) => all.find((c) => c.startsWith(`${n}=`))?.slice(n.length + 1)).find((t) => t !== undefined);
  return found && /^[\w-]{22}$/.test(found) ? found : null;
}

/** The public name of the phone that sends these cookies. */
export const nameIn = (cookies: string | undefined): string | null => {
  const token = tokenIn(cookies);
  return token === null ? null : publicName(token);
};

/** Which rooms a token may command, and since when; kept in memory, written through by the caller. */
export function openPhones(stored: readonly { token: string; room: string; pairedAt: number }[]) {
  const phones = new Map<string, { rooms: Set<string>; at: number }>();
  const add = (hash: string, room: string, at: number) => {
    const rooms = phones.get(hash)?.rooms ?? new Set();
    phones.set(hash, { rooms: rooms.add(room), at });
  };
  const addAll = (rows: typeof stored) => { for (const { token, room, pairedAt } of [...rows].sort((a, b) => a.pairedAt - b.pairedAt)) add(token, room, pairedAt); };
  addAll(stored);
  const of = (token: string | null, now: ServerAt) => {
    const found = token === null ? undefined : phones.get(hashOf(token));
    return found && now - found.at < PHONE_LASTS_MS ? found : null;
  };
  return {
    add,
    may: (token: string | null, room: string, now: ServerAt): boolean => of(token, now)?.rooms.has(room) ?? false,
    known: (token: string | null, now: ServerAt): boolean => of(token, now) !== null,
    list: (now: ServerAt) => [...phones].filter(([, p]) => now - p.at < PHONE_LASTS_MS)
      .map(([hash, p]) => ({ id: hash.slice(0, 8), since: p.at, until: p.at + PHONE_LASTS_MS, rooms: [...p.rooms] })),
    /** Takes what the log has now, where another server pairs phones too; the public names of those that are gone. */
    renew: (rows: typeof stored): string[] => {
      const gone = [...phones.keys()].filter((hash) => !rows.some((row) => row.token === hash));
      phones.clear();
      addAll(rows);
      return gone.map((hash) => hash.slice(0, 8));
    },
    /** Forgets a phone by its public name; its token's hash, or null where there is none. */
    drop: (id: string): string | null => {
      const found = [...phones.keys()].find((hash) => hash.slice(0, 8) === id) ?? null;
      if (found !== null) phones.delete(found);
      return found;
    },
  };
}
export type Phones = ReturnType<typeof openPhones>;
