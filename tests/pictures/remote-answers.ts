/** Owns what the server would answer to the samples of phone and desk: made from the plans and movements of this folder, the same every time. */
import { readdirSync, readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { movementSchema } from '../../shared/movement/movement.ts';
import { compile } from '../../shared/plan/compile.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { totals } from '../../shared/plan/totals.ts';

const root = new URL('../..', import.meta.url).pathname;
const read = (folder: string): unknown[] => readdirSync(`${root}media/${folder}`).filter((f) => f.endsWith('.json'))
  .map((f) => JSON.parse(readFileSync(`${root}media/${folder}/${f}`, 'utf8')));

const movements = read('movements').map((m) => movementSchema.parse(m));
const facts = Object.fromEntries(movements.map((m) => [m.id, factsOf(m)]));
const plans = read('plans').map((p) => planSchema.parse(p));
const summaries = plans.map((p) => {
  const t = totals(compile(p, facts).intervals);
  return { id: p.id, name: p.name, group: p.group, lengthMs: t.lengthMs, workMs: t.byKind.work, sections: p.sections.length, problem: null };
});
const hour = 3_600_000;
const monday = Date.parse('2026-05-04T16:15:00Z');
const classes = plans.map((p, i) => ({
  id: `c${i}`, room: i % 2 ? 'Street room' : 'Garden room', plan: p.id, name: p.name, startedAt: monday - i * 27 * hour,
  endedAt: i === 0 ? null : monday - i * 27 * hour + 31 * 60_000, how: (['running', 'ran-out', 'ended', 'forgotten', 'ran-out'] as const)[i % 5] ?? 'ended', headCount: i === 0 ? null : 9 + i,
}));
const studio = { name: 'Linden Yard', timeZone: 'Europe/Berlin' };
const answers = new Map<string, unknown>([
  ['/api/movements', { movements, broken: [] }],
  ['/api/plans', {
    plans: [...summaries, { ...summaries[0], id: 'bad', name: 'Too long by far', problem: 'it is 312 minutes long; 240 is the most.' }],
    broken: [{ error: 'the "rest" of the second section is "20s"; write a number of seconds.', file: 'evening.json', path: 'sections.1.rest' }],
  }],
  ...plans.map((p) => [`/api/plans/${p.id}`, p] as const),
  ['/api/desk', { in: true, withPassword: true }],
  ['/api/classes', { studio, classes, before: monday }],
]);

export async function answer(page: Page): Promise<void> {
  await page.route('**/api/**', async (route) => {
    const { pathname } = new URL(route.request().url());
    if (pathname === '/api/pair') return route.fulfill({ status: 403, json: { error: 'That code is not the one on the screen, or its time is over. Type the digits that are there now.' } });
    return route.fulfill({ json: answers.get(pathname) ?? {} });
  });
}
