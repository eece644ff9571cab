/** Owns a studio as after an earlier start: its desk has a password that nobody knows, and one browser is in. Making one is slow by intent. */
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DESK_COOKIE, hashOf } from '../server/pairing.ts';

const TOKEN = 'tests-sit-at-the-desk-';
export const insideCookie = `${DESK_COOKIE}=${TOKEN}`;
/** The same for a browser of Playwright. */
export const insideAt = (url: string) => [{ name: DESK_COOKIE, value: TOKEN, url }];

/** @param password what is kept of it */
export function earlierStart(data: string, password = 'none'): void {
  if (existsSync(join(data, 'access.json'))) return;
  const session = { token: hashOf(TOKEN), since: 0, until: 8e15 };
  writeFileSync(join(data, 'access.json'), JSON.stringify({ password, sessions: [session] }));
}
