/** Holds the catalogue: every language says everything, in its own forms, and knows every movement that comes with Hallclock. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Movement, movementSchema } from '../../shared/movement/movement.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { after, serverAt } from '../../shared/time/units.ts';
import { captionAt } from '../../shared/view/signals.ts';
import { view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import { spoken } from '../../shared/sound/voice.ts';
import { arabic } from '../../shared/words/ar/index.ts';
import type { MovementWords } from '../../shared/words/catalogue.ts';
import { german } from '../../shared/words/de/index.ts';
import type { Language } from '../../shared/words/language.ts';
import { english, languageIn, languages, loadLanguage, tagFrom } from '../../shared/words/languages.ts';
import { decide } from '../../shared/session/decide.ts';
import { replay } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';

const folder = join(import.meta.dirname, '../../media/movements');
const movements: Movement[] = readdirSync(folder).map((f) => movementSchema.parse(JSON.parse(readFileSync(join(folder, f), 'utf8'))));
const all: readonly Language[] = await Promise.all(languages.map((l) => loadLanguage(l.id)));
const [, de, ar] = all as [Language, Language, Language];
const translated: readonly (readonly [Language, MovementWords])[] = [[de, german.movements], [ar, arabic.movements]];

type Said = string | ((...given: readonly (string | number)[]) => string);
/** Every line of a catalogue with where it stands; what the server says instead may be missing. */
const linesOf = (part: unknown, at: string): [string, Said][] =>
  typeof part === 'string' || typeof part === 'function' ? [[at, part as Said]]
    : Object.entries(part as object).flatMap(([key, value]) => linesOf(value, `${at}.${key}`));
const catalogueOf = (l: Language): Map<string, Said> => new Map(linesOf(l.say, '').filter(([at]) => !at.startsWith('.refused')));

/** What a line may be given: its values differ, so that one that is not said shows. */
const examples = { number: [[7, 8], [23, 24]], string: ['Quince', 'Reed'] } as const;
const givenTo = (at: string): 'string' | 'number' => (/otherSide|sectionDone|sayNext|voice|less|more$/i.test(at) && !/thenMore/.test(at) ? 'string' : 'number');

/** A name that is the same in two languages, and is so on purpose. */
const SAME = new Set(['.stop.defibrillator', '.class.section.welcome']);

describe('the catalogue', () => {
  it('V430 every language says everything that another says, and no line is empty or carries a space at its edge', () => {
    const keys = [...catalogueOf(english).keys()].sort();
    expect(keys.length).toBeGreaterThan(150);
    for (const l of all) {
      const lines = catalogueOf(l);
      expect([...lines.keys()].sort(), l.tag).toEqual(keys);
      for (const [at, said] of lines) if (typeof said === 'string') expect(said.trim() !== '' && said.trim() === said, `${l.tag}${at}: "${said}"`).toBe(true);
    }
    expect(Object.keys(de.say.refused).sort()).toEqual(Object.keys(ar.say.refused).sort());
  });

  it('V430 what a line is given is said in every language: another number or name makes another line', () => {
    let looked = 0;
    for (const l of all) {
      for (const [at, said] of catalogueOf(l)) {
        if (typeof said === 'string') continue;
        const one = givenTo(at) === 'string' ? examples.string : null;
        for (let k = 0; k < said.length; k += 1) {
          const given = (which: 0 | 1) => Array.from({ length: said.length }, (_, i) => (one ? one[i === k ? which : 0] : (i === 0 ? examples.number[0] : examples.number[1])[i === k ? which : 0]) ?? 0);
          expect(said(...given(0)), `${l.tag}${at}, ${k}`).not.toBe(said(...given(1)));
          looked += 1;
        }
        if (one) expect(said('Quince'), `${l.tag}${at}`).toContain('Quince');
      }
    }
    expect(looked).toBeGreaterThan(70);
  });

  it('V430 no line is left in English: Arabic is written in its letters, German is not what the English says', () => {
    const en = catalogueOf(english);
    for (const [at, said] of catalogueOf(ar)) expect(typeof said === 'string' ? said : said(7, 7), `ar${at}`).toMatch(/[\u0600-\u06ff]/);
    for (const [at, said] of catalogueOf(de)) if (typeof said === 'string' && !SAME.has(at)) expect(said, `de${at}`).not.toBe(en.get(at));
  });

  it('V431 every movement that comes with Hallclock has its name, limbs, cues and option in every language, and nothing is left of one that is gone', () => {
    expect(movements.length).toBe(73);
    const texts = new Set(movements.flatMap((m) => [...m.cues, m.option.words, ...(m.phrases ? [m.phrases.left, m.phrases.right] : [])]));
    for (const [l, known] of translated) {
      expect(Object.entries(known.names).map(([id, [name]]) => `${id}: ${name}`).sort(), l.tag).toEqual(movements.map((m) => `${m.id}: ${m.name}`).sort());
      expect(Object.keys(known.texts).sort(), l.tag).toEqual([...texts].sort());
      for (const m of movements) {
        const told = l.facts(m.id, factsOf(m));
        expect(told.name).not.toBe(m.name);
        // A side must never be said as the other one.
        if (told.phrases) expect(told.phrases.left, m.id).not.toBe(told.phrases.right);
      }
      expect(new Set(Object.values(known.names).map(([, here]) => here)).size, 'two movements of one name').toBe(73);
    }
  });

  it('V431 left is said as left and right as right, wherever the English phrase names a side', () => {
    const sides = { de: [/link/i, /recht/i], ar: [/يسرى|أيسر|يسار/, /يمنى|أيمن|يمين/] } as const;
    for (const [l, known] of translated) {
      const [left, right] = sides[l.tag as 'de' | 'ar'];
      for (const m of movements) {
        for (const phrase of m.phrases ? [m.phrases.left, m.phrases.right] : []) {
          const told = known.texts[phrase] ?? '';
          expect([left.test(told), right.test(told)], `${m.id}: ${phrase}: ${told}`).toEqual([/left/.test(phrase), /right/.test(phrase)]);
        }
      }
    }
  });

  it('V431 what a studio typed stays as typed: a movement of its own, and one of ours that it named or worded anew', () => {
    const squat = movements.find((m) => m.id === 'squat') as Movement;
    expect(de.facts('yard-squat', { ...factsOf(squat), name: 'Yard squat' })).toEqual({ ...factsOf(squat), name: 'Yard squat' });
    expect(de.facts('squat', { ...factsOf(squat), name: 'Air squat' })).toEqual({ ...factsOf(squat), name: 'Air squat' });
    expect(de.facts('squat', { ...factsOf(squat), option: 'Sit on the blue box' })).toMatchObject({ name: 'Kniebeuge', option: 'Sit on the blue box' });
    expect(de.text('yard-squat', 'Yard squat', 'Knees over toes')).toBe('Knees over toes');
    expect(english.facts('squat', factsOf(squat))).toEqual(factsOf(squat));
  });
});

describe('numbers and times', () => {
  const evening = serverAt(Date.UTC(2026, 2, 12, 18, 5));
  it('V432 plural forms are those of Unicode CLDR: Arabic has six, German two', () => {
    const { reps, breaths } = ar.say.class.target;
    // CLDR 44, cardinal: one 1; two 2; few 3 to 10 of a hundred; many 11 to 99; other 100 to 102 (from memory of its chart, and as this runtime has it).
    expect([1, 2, 3, 10, 11, 99, 100, 103].map(reps)).toEqual(['مرة واحدة', 'مرتان', '3 مرات', '10 مرات', '11 مرة', '99 مرة', '100 مرة', '103 مرات']);
    expect(breaths(5)).toBe('5 أنفاس');
    expect([1, 2].map(de.say.class.target.breaths)).toEqual(['1 Atemzug', '2 Atemzüge']);
    expect([1, 2].map(english.say.class.target.reps)).toEqual(['1 rep', '2 reps']);
  });

  it('V432 times of day and lengths are written as the locale writes them, digits as it or its region has them', async () => {
    const [us, egypt, austria] = await Promise.all(['en-US', 'ar-EG', 'de-AT'].map(loadLanguage));
    const clocks = [english, us, de, austria, ar, egypt].map((l) => l?.clock(evening, 'Europe/Berlin').replace(/\s/g, ' '));
    expect(clocks).toEqual(['19:05', '7:05 PM', '19:05', '19:05', '7:05 م', '٧:٠٥ م']);
    expect([ar, egypt].map((l) => l?.count(45))).toEqual(['45', '٤٥']);
    expect([english, egypt].map((l) => l?.count(145))).toEqual(['2:25', '٢:٢٥']);
    expect([english, de].map((l) => l.count(605))).toEqual(['10:05', '10:05']);
    expect([english, de].map((l) => l.say.setUp.metres(3.5))).toEqual(['3.5\u00a0m', '3,5\u00a0m']);
  });
});

describe('the language of a screen', () => {
  it('V434 the first that we have is taken, whatever its region; what is none or unknown is passed over, and English is always there', () => {
    expect([['de'], [null, 'fr', 'ar'], ['DE-at'], ['de_AT', 'de'], ['x'.repeat(40), '<b>'], ['', undefined]].map(tagFrom)).toEqual(['de', 'ar', 'de-AT', 'de', 'en', 'en']);
    expect(['ar-EG', 'dex', 'deu', null].map(languageIn)).toEqual(['ar', null, null, null]);
    expect(all.map((l) => l.direction)).toEqual(['ltr', 'ltr', 'rtl']);
  });

  it('V437 a class, its captions and its voice are said in the language asked for', () => {
    const plan = planSchema.parse({ format: 1, id: 'p', name: 'P', sections: [{ id: 'm', kind: 'main', show: 'none', work: 40, rest: 20, items: [{ movement: 'reverse-lunge' }, { movement: 'glute-bridge' }] }] });
    const START = serverAt(1_750_000_000_000);
    const facts = Object.fromEntries(movements.map((m) => [m.id, factsOf(m)]));
    const started = decide(null, { type: 'start', session: 's', room: 'r', plan, facts, settings: { countInMs: 3_000 }, freeAt: null }, START);
    if ('refused' in started) throw new Error(started.refused.sentence);
    const session = replay(started.events) as Session;
    const said = (l: Language, ms: number) => {
      const at = after(START, ms);
      const w = words(session, view(session, at), l);
      return [w.title, w.line, w.nextLabel, w.next, captionAt(session, at, { halfway: false, language: l })?.caption];
    };
    expect(said(english, 3_100)).toEqual(['Reverse lunge', 'right leg back', 'Next, on the floor', 'Glute bridge', 'Go']);
    expect(said(de, 3_100)).toEqual(['Ausfallschritt zurück', 'rechtes Bein zurück', 'Danach am Boden', 'Schulterbrücke', 'Los']);
    expect(said(ar, 3_100)).toEqual(['اندفاع إلى الخلف', 'الساق اليمنى إلى الخلف', 'التالي على الأرض', 'الجسر', 'ابدؤوا']);
    expect(said(de, 23_100)[4]).toBe('Andere Seite: linkes Bein zurück');
    const end = { kind: 'end', at: START, occurrence: 'o', caption: '' } as const;
    expect([english, de, ar].map((l) => spoken(end, l.facts('squat', facts.squat as ReturnType<typeof factsOf>).name, l))).toEqual(['Next: Squat', 'Danach: Kniebeuge', 'التالي: القرفصاء']);
  });
});
