/** Holds what the phone says for the people who are here, on the movements as they are. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Library, type Movement, movementSchema, needs } from '../../shared/movement/movement.ts';
import { type Here, saids } from '../../shared/session/here.ts';
import { view } from '../../shared/view/view.ts';
import { ASK, fittingNow, optionsFor } from '../../shared/view/options.ts';
import { class_, into, main } from '../session/hands.ts';

const folder = new URL('../../media/movements/', import.meta.url);
const library: Library = new Map(readdirSync(folder).filter((f) => f.endsWith('.json')).map((f) => {
  const m = movementSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8')));
  return [m.id, m] as const;
}));
const of = (id: string): Movement => {
  const m = library.get(id);
  if (!m) throw new Error(id);
  return m;
};
const here = (counts: Here['counts']): Here => ({ counts, heads: null, late: [] });

describe('what fits the people who are here', () => {
  it('V102 each need that somebody named gets the option of the movement, with the movement that it is', () => {
    expect(optionsFor(here({ pregnancy: 1, knee: 2 }), of('glute-bridge'))).toEqual([
      { said: 'knee', label: 'Knee', count: 2, words: 'Feet a little further away', movement: null, ask: false, same: false },
      { said: 'pregnancy', label: 'Pregnancy', count: 1, words: 'Hip hinge, standing', movement: 'hip-hinge', ask: false, same: false },
    ]);
  });

  it('V102 what may be done as shown comes last, and who is new gets the option that everybody may take', () => {
    const lines = optionsFor(here({ new: 3, wrist: 1, back: 1 }), of('glute-bridge'));
    expect(lines.map((l) => [l.label, l.words, l.same])).toEqual([
      ['New', 'Lift only half as high', false], ['Back', 'Tilt the hips, do not lift high', false], ['Wrist', 'As shown', true],
    ]);
  });

  it('V103 a movement that says nothing for a need is asked about, or left out', () => {
    const { knee: _knee, ...rest } = of('squat').forNeeds;
    expect(optionsFor(here({ knee: 1 }), { ...of('squat'), forNeeds: rest })).toMatchObject([{ words: ASK, ask: true, same: false, movement: null }]);
  });

  it('V102 nobody who said nothing is spoken of, and every movement answers everything that can be said', () => {
    for (const m of library.values()) {
      expect(optionsFor(null, m)).toEqual([]);
      expect(optionsFor(here({ knee: 0 }), m)).toEqual([]);
      const lines = optionsFor(here(Object.fromEntries(saids.map((s) => [s, 1]))), m);
      expect(lines.map((l) => l.said).sort()).toEqual(['new', ...needs].sort());
      for (const line of lines) if (line.movement) expect(library.has(line.movement), m.id).toBe(true);
    }
  });

  it('V104 it is for the movement that runs and the one that comes; at stations for each place', () => {
    const own: Library = new Map([['squat', of('squat')], ['bridge', { ...of('glute-bridge'), id: 'bridge' }]]);
    const h = into(class_(main()), 5_000);
    const fits = fittingNow(here({ 'no-floor': 1 }), view(h.session, h.at), own);
    expect([fits.now.map((f) => f.movement), fits.next.map((f) => f.lines[0]?.words)]).toEqual([['squat'], ['Hip hinge, standing']]);
    const s = into(class_(main({ way: 'stations', show: 'none', items: [{ movement: 'squat' }, { movement: 'bridge' }] })), 5_000);
    expect(fittingNow(here({ wrist: 1 }), view(s.session, s.at), own).now.map((f) => f.movement)).toEqual(['squat', 'bridge']);
  });
});
