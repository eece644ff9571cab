/**
 * Owns whether a password is one of those that are tried first. The list is that of zxcvbn-ts
 * (MIT; some 18,000 of its words are as long as a password has to be here), read only when one
 * is chosen. OWASP ASVS 5.0, item 6.2.4, asks for the 3,000 commonest.
 */
import { PASSWORD_LEAST } from '../../shared/limits.ts';

export const TOO_COMMON = 'That password is one of the first that anybody tries. Take three or four words that have nothing to do with each other.';

const plain = (word: string): string => word.normalize('NFC').toLowerCase();

let known: Promise<ReadonlySet<string>> | null = null;

async function read(): Promise<ReadonlySet<string>> {
  const { dictionary } = await import('@zxcvbn-ts/language-common');
  const words = dictionary['passwords-common'].map((word) => plain(String(word)));
  return new Set(words.filter((word) => word.length >= PASSWORD_LEAST));
}

/** Large and small letters are not told apart, and one letter said again and again is always common. */
export async function isCommon(password: string): Promise<boolean> {
  known ??= read();
  const word = plain(password);
  return new Set(word).size < 3 || (await known).has(word);
}
