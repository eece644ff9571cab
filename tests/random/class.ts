/** Owns holding a class in a test: a plan, a clock that is turned by hand, and presses on a phone. */
import type { Plan } from '../../shared/plan/plan.ts';
import type { Command, Event } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve, replay } from '../../shared/session/evolve.ts';
import { owedSide } from '../../shared/session/ledger.ts';
import { occurrenceOf, placeAt } from '../../shared/session/place.ts';
import type { Session } from '../../shared/session/session.ts';
import { settle } from '../../shared/session/settle.ts';
import { after, type ServerAt, serverAt } from '../../shared/time/units.ts';
import { changeOf } from './changes.ts';
import { facts, type Press } from './plans.ts';

export const START = serverAt(1_750_000_000_000);

export interface Hands {
  readonly session: Session;
  readonly at: ServerAt;
  readonly startedAt: ServerAt;
  readonly events: readonly Event[];
  /** Whether the last press was taken. */
  readonly accepted: boolean;
  wait(ms: number): void;
  press(press: Press): boolean;
  say(command: Exclude<Command, { type: 'start' }>): boolean;
  replayed(): Session | null;
  settledSides(): Session['sides'];
}

export function commandOf(s: Session, press: Press, at: ServerAt): Exclude<Command, { type: 'start' }> {
  const place = placeAt(s, at);
  const occurrence = press.stale ? `gone~${s.goneBack}` : occurrenceOf(s, place.index);
  switch (press.kind) {
    case 'go':
    case 'wait':
    case 'again':
    case 'move-on':
    case 'change-sides': return { type: press.kind, occurrence };
    case 'extend':
    case 'shorten': return { type: press.kind, occurrence, byMs: press.n * 1_000 };
    case 'pause': return { type: 'pause', reason: press.n % 3 === 0 ? 'form' : null };
    case 'carry-on': return { type: 'carry-on', pause: press.stale ? s.pauses + 1 : s.pauses };
    case 'even-up': return { type: 'even-up', pair: owedSide(s, at)?.pair ?? 'none' };
    case 'note': return { type: 'note', text: `note ${press.n}` };
    case 'head-count': return { type: 'head-count', n: press.n };
    case 'end':
    case 'keep-moving':
    case 'stop':
    case 'to-paused': return { type: press.kind };
    case 'answer-stop': return { type: 'answer-stop', what: press.n % 2 === 0 ? 'help' : 'out' };
    case 'stamp-stop': return { type: 'stamp-stop', what: press.n % 2 === 0 ? 'help-called' : 'help-here' };
    default: return changeOf(s, press, press.kind, occurrence, at);
  }
}

export function hold(plan: Plan, freeAt: ServerAt | null = null, told: { instructor?: string; estimates?: Record<string, number> } = {}): Hands {
  const started = decide(null, { type: 'start', session: 's', room: 'r', plan, facts, settings: { countInMs: 3_000 }, freeAt, ...told }, START);
  if ('refused' in started) throw new Error(started.refused.sentence);
  const events: Event[] = [...started.events];
  let session = replay(events) as Session;
  let at = START;
  let accepted = true;
  return {
    get session() { return session; },
    get at() { return at; },
    get events() { return events; },
    get accepted() { return accepted; },
    startedAt: START,
    wait: (ms) => { at = after(at, ms); },
    press(press) { return this.say(commandOf(session, press, at)); },
    say(command) {
      const decided = decide(session, command, at);
      accepted = !('refused' in decided);
      if ('refused' in decided) return false;
      for (const event of decided.events) session = evolve(session, event);
      events.push(...decided.events);
      return true;
    },
    replayed: () => replay(JSON.parse(JSON.stringify(events)) as Event[]),
    settledSides: () => settle(session, at).sides,
  };
}
