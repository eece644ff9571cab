/** Owns the moments of classes that are looked at: each from a real plan, held by a hand, nothing drawn by hand. */
import type { FactsOf } from '../../shared/plan/facts.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import { after, serverAt } from '../../shared/time/units.ts';
import type { View } from '../../shared/view/view.ts';
import { type Hand, hold } from './hand.ts';

/** A Monday evening in the studio that does not exist. */
export const startAt = serverAt(Date.parse('2026-05-04T16:15:00Z'));
const in30 = after(startAt, 30 * 60_000);

const work = (movement: string, seconds: number, side: View['side'] = null) => (v: View): boolean =>
  v.phase === 'work' && v.movement === movement && v.seconds === seconds && v.side === side;
const phase = (is: View['phase'], movement?: string) => (v: View): boolean => v.phase === is && (movement === undefined || v.movement === movement);

interface State { readonly plan: string; readonly free?: true; readonly make: (hand: Hand) => Hand }
const forty = (make: State['make']): State => ({ plan: 'forty-twenty', free: true, make });

export const states: Readonly<Record<string, State>> = {
  talk: forty((h) => h.wait(20_000)),
  'follow-me': forty((h) => h.until((v) => v.phase === 'work' && v.prompt === 2)),
  watch: forty((h) => h.until(phase('watch', 'reverse-lunge')).wait(7_000)),
  'set-up': { plan: 'chair-and-balance', make: (h) => h.until((v) => v.phase === 'set-up' && v.interval?.section === 2 && v.seconds === 5) },
  'set-up-floor': forty((h) => h.until((v) => v.phase === 'set-up' && v.movement === 'lying-pull' && v.seconds === 6)),
  'waits-in-set-up': forty((h) => h.until((v) => v.phase === 'set-up' && v.movement === 'lying-pull' && v.seconds === 6)
    .press((v) => ({ type: 'wait', occurrence: v.occurrence })).wait(9_000)),
  'count-in': forty((h) => h.until(phase('count-in', 'squat'))),
  work: forty((h) => h.until(work('squat', 27))),
  right: forty((h) => h.until(work('reverse-lunge', 12, 'right'))),
  left: forty((h) => h.until(work('reverse-lunge', 8, 'left'))),
  'other-side': forty((h) => h.until(phase('other-side'))),
  rest: forty((h) => h.until(phase('rest'))),
  late: forty((h) => h.until(work('squat', 30)).press(() => ({ type: 'pause', reason: 'form' })).wait(215_000)
    .press(() => ({ type: 'carry-on', pause: 1 })).until(work('reverse-lunge', 12, 'right'))),
  paused: forty((h) => h.until(work('reverse-lunge', 12, 'right')).press(() => ({ type: 'pause', reason: null })).wait(6_000)),
  'paused-water': forty((h) => h.until(work('push-up', 22)).press(() => ({ type: 'pause', reason: 'water' })).wait(40_000)),
  'keep-moving': forty((h) => h.until(work('reverse-lunge', 12, 'right')).press(() => ({ type: 'keep-moving' })).wait(47_000)),
  'stood-long': forty((h) => h.until(work('reverse-lunge', 12, 'right')).press(() => ({ type: 'pause', reason: null })).wait(400_000)),
  stopped: forty((h) => h.until(work('squat', 22)).press(() => ({ type: 'stop' })).wait(2_000)),
  help: forty((h) => h.until(work('squat', 22)).press(() => ({ type: 'stop' })).wait(9_000).press(() => ({ type: 'answer-stop', what: 'help' }))
    .wait(30_000).press(() => ({ type: 'stamp-stop', what: 'help-called' })).wait(92_000)),
  out: forty((h) => h.until(work('squat', 22)).press(() => ({ type: 'stop' })).wait(2_000).press(() => ({ type: 'answer-stop', what: 'out' })).wait(40_000)),
  match: forty((h) => h.until(work('reverse-lunge', 12, 'left')).press((v) => ({ type: 'extend', occurrence: v.occurrence, byMs: 10_000 })).wait(3_000)),
  'match-in-set-up': forty((h) => h.until(work('reverse-lunge', 9, 'left')).press((v) => ({ type: 'move-on', occurrence: v.occurrence })).until(phase('set-up', 'push-up'))),
  'long-side': { plan: 'quarter-hour', make: (h) => h.until((v) => v.phase === 'work' && v.movement === 'side-plank') },
  reps: { plan: 'quarter-hour', make: (h) => h.until((v) => v.phase === 'work' && v.movement === 'reverse-lunge') },
  stations: { plan: 'eight-stations', make: (h) => h.until((v) => v.phase === 'work' && v.interval?.stations?.turn === 3).wait(15_000) },
  'move-round': { plan: 'eight-stations', make: (h) => h.until((v) => v.phase !== 'work' && v.interval?.stations?.turn === 3) },
  over: forty((h) => busy(h).until((v) => v.phase === 'talk' && v.interval?.section === 4).wait(70_000)
    .press((v) => ({ type: 'go', occurrence: v.occurrence }))),
  busy: forty((h) => busy(h).until((v) => v.phase === 'talk' && v.interval?.section === 4).wait(70_000)
    .press((v) => ({ type: 'go', occurrence: v.occurrence }))),
  'still-running': forty((h) => h.until(work('squat', 30)).press(() => ({ type: 'pause', reason: 'question' })).wait(30_000)),
};

/** A class in which much happens: for the log. */
const busy = (h: Hand): Hand => h
  .wait(30_000).press(() => ({ type: 'head-count', n: 14 }))
  .until(work('squat', 22)).press(() => ({ type: 'pause', reason: 'form' })).wait(48_000).press(() => ({ type: 'carry-on', pause: 1 }))
  .until(work('reverse-lunge', 6, 'left')).press((v) => ({ type: 'extend', occurrence: v.occurrence, byMs: 10_000 }))
  .until(work('push-up', 20)).press((v) => ({ type: 'again', occurrence: v.occurrence }))
  .until(work('mountain-climber', 15)).press((v) => ({ type: 'move-on', occurrence: v.occurrence }))
  .until((v) => v.phase === 'set-up' && v.movement === 'lying-pull').press((v) => ({ type: 'wait', occurrence: v.occurrence })).wait(14_000)
  .press((v) => ({ type: 'go', occurrence: v.occurrence }))
  .until(work('push-up', 30)).press(() => ({ type: 'pause', reason: 'water' })).wait(75_000).press(() => ({ type: 'carry-on', pause: 2 }))
  .press(() => ({ type: 'note', text: 'Wrists tired in the push-ups: bring the two blocks next week.' }))
  .until(work('lying-pull', 20)).press((v) => ({ type: 'move-on', occurrence: v.occurrence }));

export function stateOf(name: string, planOf: (id: string) => Plan, facts: FactsOf): Hand {
  const state = states[name];
  if (!state) throw new Error(`there is no sample called "${name}"`);
  return state.make(hold(planOf(state.plan), facts, startAt, state.free ? in30 : null));
}
