/**
 * Owns the desk's password and the browsers that have given it. Kept in access.json,
 * for all servers of a studio: of password and tokens only what cannot be turned back. Leaves alone the phones
 * (pairing.ts) and how it is asked (http.ts).
 */
import { randomBytes } from 'node:crypto';
import { z } from 'zod';
import { DESK_LASTS_MS, DESK_SESSIONS_MAX } from '../../shared/limits.ts';
import { after, type ServerAt, serverAt } from '../../shared/time/units.ts';
import { hashOf } from '../pairing.ts';
import type { StudioFiles } from '../files/files.ts';
import { openKept } from '../people/kept.ts';
import { isCommon, TOO_COMMON } from './common.ts';
import { kept, matches, newPassword } from './password.ts';
import { openTries } from './tries.ts';

const accessSchema = z.strictObject({
  password: z.string(),
  sessions: z.array(z.strictObject({ token: z.string(), since: z.number(), until: z.number() })),
});

type Sessions = z.infer<typeof accessSchema>['sessions'];

export type CameIn = { readonly token: string } | { readonly wrong: true } | { readonly waitMs: number } | { readonly notKept: true };

export type Changed = { readonly changed: true } | { readonly common: true } | Exclude<CameIn, { readonly token: string }>;

export interface Desk {
  /** A password that was made just now; it is told once, where the server was started. */
  readonly firstPassword: string | null;
  readonly isIn: (token: string | null, now: ServerAt) => boolean;
  /** Reads again who is in: one may have come in through another server just now. */
  readonly renew: () => Promise<void>;
  readonly comeIn: (password: string, address: string, now: ServerAt) => Promise<CameIn>;
  readonly goOut: (token: string | null) => Promise<void>;
  readonly list: (now: ServerAt) => readonly { readonly id: string; readonly since: number; readonly until: number }[];
  /** By the beginning of what is kept of the token. */
  readonly revoke: (id: string) => Promise<boolean>;
  /** Everybody is out then. The old one is guessed at no other pace than at the door. */
  readonly change: (old: string, password: string, address: string, now: ServerAt) => Promise<Changed>;
  /** Resolves when nothing is being written. */
  readonly settled: () => Promise<unknown>;
}

const idOf = (hash: string): string => hash.slice(0, 8);

/** @param given the password from the surroundings, which then holds; null where none was given
 * @throws an error with a sentence where the one that was given is among the first that anybody tries */
export async function openDesk(files: StudioFiles, given: string | null, warn: (sentence: string) => void): Promise<Desk> {
  const file = await openKept(files, 'access.json', accessSchema, { password: '', sessions: [] }, warn, { mode: 0o600 });
  const tries = openTries();
  let firstPassword: string | null = null;
  let ready: Promise<unknown> = Promise.resolve();
  if (given !== null) {
    if (await isCommon(given)) throw new Error(`HALLCLOCK_PASSWORD is no password: ${TOO_COMMON}`);
    if (!(await matches(given, file.now().password))) await file.keep({ password: await kept(given), sessions: [] });
  } else if (file.now().password === '') {
    const made = newPassword();
    firstPassword = made;
    // Takes a while by intent; the room does not wait for it.
    // Of two servers that start at once one makes it; the other's was never told to anybody but at its start, and holds no more.
    ready = kept(made).then((password) => file.change((now) => (now.password === '' ? { password, sessions: [] } : now))).then((done) => {
      if (!done) warn('the desk\'s password could not be written down; until the disk takes one nobody can come in at the desk');
    });
  }
  const sessions = () => file.now().sessions;
  /** One after the other, so that two who come in at once are both in. */
  const keep = (next: (now: Sessions) => Sessions): Promise<boolean> => file.change((now) => ({ ...now, sessions: next(now.sessions) }));

  /** @returns what hinders whoever gives this password from here; null where it is the one */
  async function hinders(password: string, address: string, now: ServerAt): Promise<{ readonly waitMs: number } | { readonly wrong: true } | null> {
    const waitMs = tries.waitMs(address, now);
    if (waitMs > 0) return { waitMs };
    // Counted before it is looked at, so that many at once are not many free tries.
    tries.wrong(address, now);
    await ready;
    if (!(await matches(password, file.now().password))) return { wrong: true };
    tries.forgive(address);
    return null;
  }

  return {
    firstPassword,
    isIn: (token, now) => token !== null && sessions().some((s) => s.token === hashOf(token) && now < serverAt(s.until)),
    renew: file.renew,
    comeIn: async (password, address, now) => {
      const hindered = await hinders(password, address, now);
      if (hindered) return hindered;
      const token = randomBytes(16).toString('base64url');
      const session = { token: hashOf(token), since: now, until: after(now, DESK_LASTS_MS) };
      return (await keep((all) => [...all.filter((s) => now < s.until).slice(1 - DESK_SESSIONS_MAX), session])) ? { token } : { notKept: true };
    },
    goOut: async (token) => {
      // Whoever is not in writes nothing.
      if (token !== null && sessions().some((s) => s.token === hashOf(token))) await keep((all) => all.filter((s) => s.token !== hashOf(token)));
    },
    list: (now) => sessions().filter((s) => now < s.until).map((s) => ({ id: idOf(s.token), since: s.since, until: s.until })),
    revoke: async (id) => {
      return sessions().some((s) => idOf(s.token) === id) && keep((all) => all.filter((s) => idOf(s.token) !== id));
    },
    settled: () => ready,
    change: async (old, password, address, now) => {
      const hindered = await hinders(old, address, now);
      if (hindered) return hindered;
      if (await isCommon(password)) return { common: true };
      return (await file.keep({ password: await kept(password), sessions: [] })) ? { changed: true } : { notKept: true };
    },
  };
}
