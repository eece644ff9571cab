/** Owns the bench of the ways to end on time: 90 minutes, 12 movements in 6 rounds. */
import { planSchema } from '../../shared/plan/plan.ts';
import { finish } from '../../shared/session/finish.ts';
import { ways } from '../../shared/session/ways.ts';
import { after } from '../../shared/time/units.ts';
import { hold } from '../random/class.ts';
import { median, percentile, table, times } from './table.ts';

const movements = ['squat', 'lunge', 'bridge', 'plank', 'clam', 'bird-dog', 'march', 'rise', 'squat', 'lunge', 'bridge', 'clam'];
const plan = planSchema.parse({
  format: 1, id: 'long', name: 'Long', sections: [
    { id: 'w', kind: 'welcome', talk: 60 },
    { id: 'm', kind: 'main', rounds: 6, work: 40, rest: 25, items: movements.map((movement) => ({ movement })) },
    { id: 'c', kind: 'cool-down', work: 60, rest: 15, items: [{ movement: 'squat' }, { movement: 'bridge' }, { movement: 'bird-dog' }] },
  ],
});

export function run(): void {
  const h = hold(plan);
  h.wait(60_000);
  h.press({ ticks: 0, kind: 'go', n: 1, stale: false });
  const lengthMs = finish(h.session, h.at).endAt - h.startedAt;
  const rows = [30, 120, 300, 900, 5_000].map((lateS) => {
    const s = { ...h.session, promisedAt: after(finish(h.session, h.at).endAt, -lateS * 1_000) };
    return [`${lateS} s late: ${ways(s, h.at).map((w) => w.kind).join(', ')}`, times(300, () => ways(s, h.at))] as const;
  });
  table(`Ways to end on time, ${Math.round(lengthMs / 60_000)} min, ${h.session.intervals.length} intervals, ms`,
    [['', 'median', 'p95'], ...rows.map(([name, ms]) => [name, median(ms), percentile(ms, 0.95)])]);
}
