/**
 * Owns a hand that holds a class by itself, second by second, for pictures
 * without a server: it says go where something waits, and whatever it is told to.
 */
import { compile } from '../../shared/plan/compile.ts';
import type { FactsOf } from '../../shared/plan/facts.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import type { Event, RunningCommand } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { type View, view } from '../../shared/view/view.ts';

const STEP_MS = 1_000;
/** A class of four hours and its waits. */
const STEPS_MAX = 20_000;

export interface Hand {
  readonly events: Event[];
  readonly session: () => Session;
  readonly now: () => ServerAt;
  readonly wait: (ms: number) => Hand;
  /** Goes on, saying go after a while wherever it waits, until the class looks so. */
  readonly until: (seen: (v: View) => boolean) => Hand;
  readonly press: (say: (v: View) => RunningCommand) => Hand;
}

export function hold(plan: Plan, facts: FactsOf, startAt: ServerAt, freeAt: ServerAt | null): Hand {
  const events: Event[] = [];
  let session: Session | null = null;
  let at = startAt;
  const take = (decided: ReturnType<typeof decide>) => {
    if ('refused' in decided) throw new Error(decided.refused.sentence);
    for (const event of decided.events) {
      events.push(event);
      session = evolve(session, event);
    }
  };
  if (compile(plan, facts).intervals.length === 0) throw new Error('a sample needs intervals');
  take(decide(null, { type: 'start', session: 'sample', room: 'garden', plan, facts, settings: { countInMs: 3_000 }, freeAt }, at));
  const now = (): Session => {
    if (!session) throw new Error('no class');
    return session;
  };
  const hand: Hand = {
    events,
    session: now,
    now: () => at,
    wait: (ms) => { at = after(at, ms); return hand; },
    until: (seen) => {
      let waitedMs = 0;
      for (let step = 0; step < STEPS_MAX; step += 1) {
        const v = view(now(), at);
        if (seen(v)) return hand;
        if (v.phase === 'over') throw new Error('the class was over before it looked so');
        waitedMs = v.waits ? waitedMs + STEP_MS : 0;
        if (v.interval && waitedMs >= v.interval.lengthMs * 1.04) {
          take(decide(now(), { type: 'go', occurrence: v.occurrence }, at));
          waitedMs = 0;
        }
        at = after(at, STEP_MS);
      }
      throw new Error('the class never looked so');
    },
    press: (say) => { take(decide(now(), say(view(now(), at)), at)); return hand; },
  };
  return hand;
}
