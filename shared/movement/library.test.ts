/** Holds what must be true of the movement library as a whole: coverage, links and intensity. */
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Movement, movementSchema, needs, onFloor, patterns } from './movement.ts';

const folder = new URL('../../media/movements/', import.meta.url);
const files = readdirSync(folder).filter((f) => f.endsWith('.json'));
const movements: Movement[] = files.map((f) => movementSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8'))));
const library = new Map(movements.map((m) => [m.id, m]));
const count = (test: (m: Movement) => boolean) => movements.filter(test).length;
const standsOrSits = (m: Movement) => !onFloor(m.start) && !onFloor(m.end);

/**
 * MET by code: Herrmann et al. 2024, the 2024 Adult Compendium of Physical
 * Activities, J Sport Health Sci 13(1):6-12. Values read in copies.
 */
const COMPENDIUM_2024: Record<string, number> = {
  '02020': 7.5, '02022': 3.8, '02024': 2.8, '02030': 3.5, '02032': 6, '02034': 3.5, '02035': 5, '02040': 7.5, '02052': 5,
  '02056': 3, '02057': 6.5, '02101': 2.3, '02105': 2.8, '02140': 2.5, '02143': 4, '02145': 6, '02150': 2.3, '02160': 4, '02180': 3.5,
  '02210': 7, '02214': 11, '02340': 2.8, '02344': 4, '12025': 4.8,
};

describe('library', () => {
  it('M14 there are sixty movements or more, each under its own id, each with a figure', () => {
    expect(movements.length).toBeGreaterThanOrEqual(60);
    expect(files.map((f) => f.replace('.json', ''))).toEqual(movements.map((m) => m.id));
    expect(movements.filter((m) => !m.figure).map((m) => m.id)).toEqual([]);
    expect(new Set(movements.map((m) => m.name)).size).toBe(movements.length);
  });

  it('M15 every pattern is there; standing, floor and chair; stretches, no floor, no jumping, each side', () => {
    expect(patterns.filter((p) => !movements.some((m) => m.pattern === p))).toEqual([]);
    expect(count((m) => m.start === 'standing')).toBeGreaterThanOrEqual(10);
    expect(count((m) => m.start === 'chair')).toBeGreaterThanOrEqual(5);
    expect(count((m) => onFloor(m.start))).toBeGreaterThanOrEqual(15);
    expect(count((m) => m.pattern === 'stretch')).toBeGreaterThanOrEqual(12);
    expect(count(standsOrSits)).toBeGreaterThanOrEqual(10);
    expect(count((m) => m.impact !== 'high' && m.areas.includes('heart and lungs'))).toBeGreaterThanOrEqual(8);
    expect(count((m) => m.sides === 'each')).toBeGreaterThanOrEqual(18);
  });

  it('M16 every movement answers every need, and its answers do not ask for what they avoid', () => {
    const wrong: string[] = [];
    for (const m of movements) {
      for (const need of needs) {
        const a = m.forNeeds[need];
        if (!a) { wrong.push(`${m.id}: nothing for ${need}`); continue; }
        const other = a.movement ? library.get(a.movement) : m;
        if (need === 'no-floor' && other && !standsOrSits(other) && a.words === 'As shown') wrong.push(`${m.id}: on the floor as shown`);
        if (need === 'no-floor' && a.movement && other && !standsOrSits(other)) wrong.push(`${m.id}: ${a.movement} is on the floor`);
        if (need === 'no-jumping' && other?.impact === 'high') wrong.push(`${m.id}: ${other.id} jumps`);
        if (a.movement === m.id) wrong.push(`${m.id}: its own answer for ${need}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('M17 links lead to movements, options and builds go round in no circle', () => {
    const missing = movements.flatMap((m) => [m.option, m.build, ...Object.values(m.forNeeds)].filter((a) => a.movement && !library.has(a.movement)).map((a) => `${m.id} -> ${a.movement}`));
    expect(missing).toEqual([]);
    for (const kind of ['option', 'build'] as const) {
      for (const m of movements) {
        const walked = new Set<string>();
        for (let at: Movement | undefined = m; at; at = at[kind].movement ? library.get(at[kind].movement) : undefined) {
          expect(walked.has(at.id), `${kind} of ${m.id} comes back to ${at.id}`).toBe(false);
          walked.add(at.id);
        }
      }
    }
  });

  it('M18 what jumps has an option that does not, and an option never costs more than what it replaces', () => {
    for (const m of movements) {
      const option = m.option.movement ? library.get(m.option.movement) : undefined;
      if (m.impact === 'high') expect(option && option.impact !== 'high', m.id).toBe(true);
      if (option) expect(option.intensity.met, `${m.id} -> ${option.id}`).toBeLessThanOrEqual(m.intensity.met);
    }
  });

  it('M19 intensity is a code of the 2024 Compendium with that code\'s MET', () => {
    expect(movements.filter((m) => COMPENDIUM_2024[m.intensity.code] !== m.intensity.met).map((m) => `${m.id} ${m.intensity.code} ${m.intensity.met}`)).toEqual([]);
  });

  it('M20 a movement has a tempo or is held, and its sides have words that name a limb', () => {
    for (const m of movements) {
      expect(m.tempoS !== undefined || m.hold, m.id).toBe(true);
      if (m.sides !== 'each') continue;
      expect(m.phrases?.left, m.id).not.toBe(m.phrases?.right);
      expect(`${m.phrases?.left} ${m.phrases?.right}`, m.id).toMatch(/leg|arm|knee|foot|ankle|elbow|hand/);
      expect(m.phrases?.left.replaceAll('left', '#').replaceAll('right', 'left').replaceAll('#', 'right'), m.id).toBe(m.phrases?.right);
    }
  });
});
