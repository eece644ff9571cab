/**
 * Owns what a language is to the rest of the program: its catalogue, its way of writing
 * numbers and times of day, its direction, and the movements in its words. Leaves alone
 * which languages there are (languages.ts).
 */
import type { Facts } from '../plan/facts.ts';
import type { ServerAt } from '../time/units.ts';
import type { Catalogue, Forms, MovementWords } from './catalogue.ts';

export interface Language {
  /** As it was asked for: a language, or a language of a region ("de", "de-AT", "ar-EG"). */
  readonly tag: string;
  readonly direction: 'ltr' | 'rtl';
  readonly say: Catalogue;
  /** Whole numbers, in this locale's digits, without anything between thousands. */
  readonly number: (n: number) => string;
  /** Seconds as they are counted on the wall: "45", from a hundred on "2:25". */
  readonly count: (seconds: number) => string;
  /** A time of day, hours and minutes, as this locale writes it. */
  readonly clock: (at: ServerAt, timeZone: string) => string;
  /** Name, limbs and option of a movement; what a studio typed itself stays as typed. */
  readonly facts: (id: string, facts: Facts) => Facts;
  /** Any other text of a movement, such as a cue. */
  readonly text: (id: string, name: string, text: string) => string;
}

/** From here on seconds are minutes. */
export const LONG_S = 100;

/** How a language that names no region writes numbers and times. */
const plainLocale: Readonly<Record<string, string>> = {
  en: 'en-GB',
  // Digits that every phone, plan and door of the house has too, and that are read fastest in the font of the wall: ar-EG and others bring their own.
  ar: 'ar-u-nu-latn',
};

const asIs: MovementWords = { names: {}, texts: {} };

export function makeLanguage(tag: string, direction: Language['direction'], catalogue: (forms: Forms) => Catalogue, movements: MovementWords = asIs): Language {
  const locale = plainLocale[tag] ?? tag;
  const whole = new Intl.NumberFormat(locale, { useGrouping: false });
  const two = new Intl.NumberFormat(locale, { useGrouping: false, minimumIntegerDigits: 2 });
  const tenth = new Intl.NumberFormat(locale, { useGrouping: false, minimumFractionDigits: 1, maximumFractionDigits: 1 });
  const rules = new Intl.PluralRules(locale);
  const number = (n: number): string => whole.format(n);
  const names = new Map(Object.entries(movements.names));
  const texts = new Map(Object.entries(movements.texts));
  const clocks = new Map<string, Intl.DateTimeFormat>();
  const ours = (id: string, name: string): string | null => {
    const known = names.get(id);
    return known?.[0] === name ? known[1] : null;
  };
  const text: Language['text'] = (id, name, words) => (ours(id, name) === null ? words : (texts.get(words) ?? words));
  return {
    tag,
    direction,
    say: catalogue({ number, tenths: (n) => tenth.format(n), plural: (n, forms) => forms[rules.select(n)] ?? forms.other }),
    number,
    count: (s) => (s < LONG_S ? number(s) : `${number(Math.floor(s / 60))}:${two.format(s % 60)}`),
    clock: (at, timeZone) => {
      const made = clocks.get(timeZone) ?? clockOf(locale, timeZone);
      clocks.set(timeZone, made);
      return made.format(at);
    },
    facts: (id, f) => {
      const name = ours(id, f.name);
      if (name === null) return f;
      const { phrases, option } = f;
      return {
        ...f,
        name,
        ...(phrases === undefined ? {} : { phrases: { left: text(id, f.name, phrases.left), right: text(id, f.name, phrases.right) } }),
        ...(option === undefined ? {} : { option: text(id, f.name, option) }),
      };
    },
    text,
  };
}

/** Two digits for the hour where the day has 24 of them, as few as it needs where it has twice 12. */
function clockOf(locale: string, timeZone: string): Intl.DateTimeFormat {
  const { hour12 = false } = new Intl.DateTimeFormat(locale, { hour: 'numeric' }).resolvedOptions();
  return new Intl.DateTimeFormat(locale, { hour: hour12 ? 'numeric' : '2-digit', minute: '2-digit', timeZone });
}
