/**
 * Owns which languages there are, and getting one: English is always there, the others
 * come when they are asked for, so that a screen loads none that it does not show.
 */
import type { Catalogue, Forms, MovementWords } from './catalogue.ts';
import { en } from './en.ts';
import { type Language, makeLanguage } from './language.ts';

/** In the order in which they are offered; each in its own words. */
export const languages = [
  { id: 'en', name: 'English', direction: 'ltr' },
  { id: 'de', name: 'Deutsch', direction: 'ltr' },
  { id: 'ar', name: 'العربية', direction: 'rtl' },
] as const;
export type LanguageId = (typeof languages)[number]['id'];

export const english: Language = makeLanguage('en', 'ltr', en);

interface Whole { readonly catalogue: (forms: Forms) => Catalogue; readonly movements: MovementWords }
const others: Readonly<Record<Exclude<LanguageId, 'en'>, () => Promise<Whole>>> = {
  de: async () => (await import('./de/index.ts')).german,
  ar: async () => (await import('./ar/index.ts')).arabic,
};

/** The longest tag that is worth looking at (BCP 47 gives 35 letters to those in use). */
const TAG_MOST = 35;

/** The language that a tag asks for, if we have it: "de", "de-AT", "ar-EG". */
export function languageIn(tag: string | null | undefined): LanguageId | null {
  if (!tag || tag.length > TAG_MOST || !/^[a-z]{2,3}(-[a-z0-9]{1,8})*$/i.test(tag)) return null;
  const first = tag.toLowerCase().split('-')[0];
  return languages.find((l) => l.id === first)?.id ?? null;
}

/** The first of these tags that we have, in its usual writing; English where there is none. */
export function tagFrom(asked: readonly (string | null | undefined)[]): string {
  for (const tag of asked) {
    if (languageIn(tag) === null) continue;
    try {
      return Intl.getCanonicalLocales(tag ?? '')[0] ?? 'en';
    } catch {
      // No tag after all; the next may be.
    }
  }
  return 'en';
}

const loaded = new Map<string, Promise<Language>>([['en', Promise.resolve(english)]]);

/** @param tag as `tagFrom` gives it @throws where it cannot be fetched; the next call tries again */
export function loadLanguage(tag: string): Promise<Language> {
  const before = loaded.get(tag);
  if (before) return before;
  const id = languageIn(tag) ?? 'en';
  const direction = languages.find((l) => l.id === id)?.direction ?? 'ltr';
  const made = id === 'en'
    ? Promise.resolve(makeLanguage(tag, direction, en))
    : others[id]().then(({ catalogue, movements }) => makeLanguage(tag, direction, catalogue, movements));
  loaded.set(tag, made);
  made.catch(() => loaded.delete(tag));
  return made;
}
