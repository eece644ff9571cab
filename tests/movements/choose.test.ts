/** Holds how movements are found, and how the form makes one of what was filled in. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { movementSchema, needs, onFloor } from '../../shared/movement/movement.ts';
import { draft, idOf } from '../../remote/movements/draft.ts';
import { type Choice, choose, everything, toggled } from '../../remote/movements/filter.ts';

const folder = new URL('../../media/movements/', import.meta.url);
const all = readdirSync(folder).map((f) => movementSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8'))));
const found = (c: Partial<Choice>) => choose(all, { ...everything, ...c });

describe('choosing movements', () => {
  it('M33 any of its names finds a movement, whatever its capitals, accents and hyphens', () => {
    expect(found({})).toHaveLength(all.length);
    const other = all.find((m) => m.otherNames.length > 0);
    expect(found({ text: ` ${other?.otherNames[0]?.toUpperCase()} ` }).map((m) => m.id)).toContain(other?.id);
    expect(found({ text: 'push up' }).map((m) => m.id)).toEqual(expect.arrayContaining(['push-up', 'wall-push-up']));
    expect(found({ text: 'lúnge reverse' }).map((m) => m.id)).toEqual(['reverse-lunge']);
    expect(found({ text: 'nothing is called this' })).toEqual([]);
  });

  it('M33 ticks of a group widen it, groups narrow each other, every property counts', () => {
    const chair = found({ where: ['chair'] });
    expect(chair.length).toBeGreaterThan(4);
    expect(chair.every((m) => m.start === 'chair' || m.end === 'chair')).toBe(true);
    const floor = found({ where: ['floor'] });
    expect(floor).toHaveLength(all.filter((m) => onFloor(m.start) || onFloor(m.end)).length);
    expect(found({ where: ['chair', 'floor'] })).toHaveLength(new Set([...chair, ...floor]).size);
    const narrow = found({ where: ['floor'], pattern: ['stretch'], impact: ['none'], suits: ['cool-down'], sides: ['each'], areas: ['hips', 'back thighs'] });
    expect(narrow.length).toBeGreaterThan(0);
    expect(narrow).toEqual(floor.filter((m) => m.pattern === 'stretch' && m.impact === 'none' && m.suits.includes('cool-down') && m.sides === 'each'
      && (m.areas.includes('hips') || m.areas.includes('back thighs'))));
  });

  it('M33 needs must all be met, and what can be done as shown comes first', () => {
    const asks = found({ needs: [...needs] });
    expect(asks.every((m) => needs.every((n) => m.forNeeds[n] !== undefined))).toBe(true);
    const knee = found({ needs: ['knee'] }).map((m) => m.forNeeds.knee?.words === 'As shown');
    expect(knee).toEqual([...knee].sort((a, b) => Number(b) - Number(a)));
    const own = all.slice(0, 1).map((m) => ({ ...m, forNeeds: {} }));
    expect(choose(own, { ...everything, needs: ['back'] })).toEqual([]);
    expect(toggled(toggled(everything, 'needs', 'back'), 'needs', 'back')).toEqual(everything);
  });
});

describe('the form', () => {
  const filled = (over: Record<string, string | string[]> = {}) => {
    const form = new FormData();
    const fields: Record<string, string | string[]> = {
      name: 'Überkopf-Zug 2', otherNames: 'Pull, Row', setUp: 'Stand.', action: 'Pull.', cues: 'Tall\n\nSlow', lookFor: 'Shrugging', option: 'Sit', 'option-to': 'chair-march', build: 'Slower',
      start: 'standing', end: 'standing', pattern: 'pull', impact: 'none', sides: 'each', held: 'no', tempoS: '2.5', leastS: '20', left: 'left arm', right: 'right arm',
      suits: ['main'], areas: ['arms', 'trunk'], intensity: '02024 2.8', 'need-knee': 'As shown', ...over,
    };
    for (const [name, value] of Object.entries(fields)) for (const one of [value].flat()) form.append(name, one);
    return draft(form);
  };

  it('M31 makes a movement of what was filled in', () => {
    expect(filled()).toMatchObject({ movement: {
      id: 'uberkopf-zug-2', otherNames: ['Pull', 'Row'], cues: ['Tall', 'Slow'], option: { words: 'Sit', movement: 'chair-march' }, tempoS: 2.5, hold: false,
      phrases: { left: 'left arm', right: 'right arm' }, forNeeds: { knee: { words: 'As shown' } }, areas: ['arms', 'trunk'], intensity: { code: '02024', met: 2.8 },
    } });
    expect(idOf('  --- ')).toBe('');
  });

  it('M31 says which field does not fit, and what to do', () => {
    expect(filled({ cues: 'One' })).toEqual({ problem: 'Cues: at least 2. Add one.' });
    expect(filled({ cues: `One\n${'x'.repeat(41)}` })).toEqual({ problem: 'Cues: each line at most 40 letters. Shorten it.' });
    expect(filled({ areas: ['arms', 'trunk', 'hips', 'neck', 'chest'] })).toEqual({ problem: 'Areas: at most 4. Leave some out.' });
    expect(filled({ suits: [] })).toEqual({ problem: 'Suits: at least 1. Add one.' });
    expect(filled({ left: '', right: '' })).toEqual({ problem: 'Words for the sides: a movement done one side at a time needs its words for left and right.' });
    expect(filled({ name: '!' })).toMatchObject({ problem: expect.stringMatching(/^Name: /) });
  });
});
