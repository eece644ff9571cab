/** Owns the bench of the class clock: compiling a plan, and rebuilding a session from its log. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { movementSchema } from '../../shared/movement/movement.ts';
import { compile } from '../../shared/plan/compile.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import type { Event } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve, replay } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, serverAt } from '../../shared/time/units.ts';
import { view } from '../../shared/view/view.ts';
import { median, percentile, table, times } from './table.ts';

const media = join(import.meta.dirname, '../../media');
const read = (folder: string): unknown[] => readdirSync(join(media, folder)).filter((f) => f.endsWith('.json'))
  .map((f) => JSON.parse(readFileSync(join(media, folder, f), 'utf8')));

export function run(): void {
  const facts = Object.fromEntries(read('movements').map((m) => movementSchema.parse(m)).map((m) => [m.id, factsOf(m)]));
  const plans = read('plans').map((p) => planSchema.parse(p));
  const longest = plans.map((plan) => ({ plan, n: compile(plan, facts).intervals.length })).sort((a, b) => b.n - a.n)[0];
  if (!longest) throw new Error('there is no demo plan');
  const { plan, n } = longest;
  const events = thousand(plan, facts);
  const session = replay(events) as Session;
  const at = after(session.lastAt, 500);
  const rows = [
    [`compile ${plan.id} (${n} intervals)`, times(500, () => compile(plan, facts))],
    [`replay ${events.length} events`, times(50, () => replay(events))],
    ['view, once', times(2_000, () => view(session, at))],
  ] as const;
  table('The class clock, ms', [['', 'median', 'p95'], ...rows.map(([name, ms]) => [name, median(ms), percentile(ms, 0.95)])]);
}

/** A log of 1,000 events: the class is paused, carried on and extended again and again. */
function thousand(plan: Parameters<typeof compile>[0], facts: Parameters<typeof compile>[1]): Event[] {
  let at = serverAt(1_750_000_000_000);
  const events: Event[] = [];
  let session: Session | null = null;
  const say = (command: Parameters<typeof decide>[1]) => {
    const decided = decide(session, command, at);
    if ('refused' in decided) return;
    for (const event of decided.events) {
      session = evolve(session, event);
      events.push(event);
    }
  };
  say({ type: 'start', session: 's', room: 'r', plan, facts, settings: { countInMs: 3_000 }, freeAt: null });
  for (let k = 0; events.length < 1_000; k += 1) {
    at = after(at, 900);
    const s = session as Session | null;
    if (!s) break;
    const { occurrence } = view(s, at);
    if (k % 4 === 0) say({ type: 'go', occurrence });
    else if (k % 4 === 1) say({ type: 'extend', occurrence, byMs: 1_000 });
    else if (k % 4 === 2) say({ type: 'pause', reason: 'form' });
    else say({ type: 'carry-on', pause: s.pauses });
  }
  return events;
}
