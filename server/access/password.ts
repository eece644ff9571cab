/**
 * Owns a password at rest: scrypt of Node (RFC 7914), with the cost that OWASP's Password
 * Storage Cheat Sheet gives for 32 MB (N = 2^15, r = 8, p = 3; from memory), and a new one
 * that a person can type. Nothing here knows whose it is.
 */
import { randomBytes, randomInt, scrypt, timingSafeEqual } from 'node:crypto';

const COST = { N: 2 ** 15, r: 8, p: 3, maxmem: 64 * 1_048_576 } as const;
const KEY_BYTES = 32;

const keyOf = (password: string, salt: Buffer, n: number, r: number, p: number): Promise<Buffer> => new Promise((resolve, reject) => {
  // Two ways to write one letter are one password (RFC 8265 section 4.2).
  scrypt(password.normalize('NFC'), salt, KEY_BYTES, { ...COST, N: n, r, p }, (error, key) => (error ? reject(error) : resolve(key)));
});

/** "scrypt$N$r$p$salt$key", salt and key in base64url. */
export async function kept(password: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await keyOf(password, salt, COST.N, COST.r, COST.p);
  return ['scrypt', COST.N, COST.r, COST.p, salt.toString('base64url'), key.toString('base64url')].join('$');
}

/** Whether this is the password that was kept; false too where what was kept is not understood. */
export async function matches(password: string, from: string): Promise<boolean> {
  const [how, n, r, p, salt, key] = from.split('$');
  if (how !== 'scrypt' || !salt || !key) return false;
  const expected = Buffer.from(key, 'base64url');
  const made = await keyOf(password, Buffer.from(salt, 'base64url'), Number(n), Number(r), Number(p));
  return made.length === expected.length && timingSafeEqual(made, expected);
}

/** Letters and digits that cannot be taken for one another. */
const LETTERS = 'abcdefghjkmnpqrstuvwxyz23456789';

/** Three groups of four: 59 bits, which nobody guesses at the speed that the door allows. */
export const newPassword = (): string =>
  Array.from({ length: 3 }, () => Array.from({ length: 4 }, () => LETTERS[randomInt(LETTERS.length)]).join('')).join('-');
