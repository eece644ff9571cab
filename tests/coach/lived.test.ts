/** Holds what the next session reads from a class that was really held: its log, its report, its plan. */
import { expect, it } from 'vitest';
import { lived } from '../../shared/coach/lived.ts';
import { nextSession } from '../../shared/coach/next.ts';
import { factsOfLibrary } from '../../shared/coach/study.ts';
import type { Event, RunningCommand } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { replay } from '../../shared/session/evolve.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import { report } from '../../shared/view/report.ts';
import { view } from '../../shared/view/view.ts';
import { library, main, moves, plan } from './library.ts';

const at = (s: number): ServerAt => serverAt(1_700_000_000_000 + s * 1_000);

it('P252 stops for form are counted at their movement, and a movement that was moved on from is left out', () => {
  const p = plan([main({ rounds: 2, show: 'none', items: moves('squat', 'push-up', 'incline-push-up') })]);
  const started = decide(null, { type: 'start', session: 'c1', room: 'garden', plan: p, facts: factsOfLibrary(library), settings: { countInMs: 3_000 }, freeAt: null }, at(0));
  const events: Event[] = 'events' in started ? [...started.events] : [];
  const press = (s: number, say: (occurrence: string, number: number) => RunningCommand): void => {
    const session = replay(events);
    if (!session) throw new Error('the class did not start');
    const decided = decide(session, say(view(session, at(s)).occurrence, session.pause?.number ?? 0), at(s));
    if ('refused' in decided) throw new Error(decided.refused.sentence);
    events.push(...decided.events);
  };
  press(10, () => ({ type: 'pause', reason: 'form' }));
  press(20, (_, pause) => ({ type: 'carry-on', pause }));
  press(30, () => ({ type: 'pause', reason: 'form' }));
  press(40, (_, pause) => ({ type: 'carry-on', pause }));
  press(44, () => ({ type: 'pause', reason: 'water' }));
  press(50, (_, pause) => ({ type: 'carry-on', pause }));
  press(130, () => ({ type: 'end' }));
  const r = report(events, at(130));
  if (!r) throw new Error('no report');
  const l = lived(r);
  expect(l.movements.map((m) => [m.movement, m.section, m.item, m.plannedMs, m.formPauses, m.skipped])).toEqual([
    ['squat', 'main', 0, 80_000, 2, 1], ['push-up', 'main', 1, 80_000, 0, 1], ['incline-push-up', 'main', 2, 80_000, 0, 2],
  ]);
  expect(l.movements[0]?.doneMs).toBe(40_000);
  const next = nextSession(p, library, l, 5, { lever: 'seconds' });
  expect(next.changes[0]?.sentence).toBe('The class was stopped 2 times to correct squat. Do sit to stand until it goes well.');
  expect(next.says).toBe('Mend first, add later.');
});
