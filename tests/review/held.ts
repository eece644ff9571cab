/**
 * Owns classes of a studio that nobody has: held from real plans by a hand with a seed, on a
 * clock of their own, through the same decide and evolve as a real one. Leaves alone where
 * they are kept (years.ts).
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Movement, movementSchema } from '../../shared/movement/movement.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';
import type { Command, Event } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import { ways } from '../../shared/session/ways.ts';
import { lateness } from '../../shared/session/finish.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { view } from '../../shared/view/view.ts';
import { type Chance, longTailed, pick, whole } from '../simulation/chance.ts';

const media = join(import.meta.dirname, '../../media');
const read = (folder: string): unknown[] => readdirSync(join(media, folder)).filter((f) => f.endsWith('.json')).sort()
  .map((f) => JSON.parse(readFileSync(join(media, folder, f), 'utf8')));
export const movements: readonly Movement[] = read('movements').map((m) => movementSchema.parse(m));
export const plans: readonly Plan[] = read('plans').map((p) => planSchema.parse(p));
const facts = Object.fromEntries(movements.map((m) => [m.id, factsOf(m)]));

export interface Told {
  readonly id: string;
  readonly room: string;
  readonly plan: Plan;
  readonly startedAt: ServerAt;
  readonly freeAt: ServerAt | null;
  /** Events to come to, about; notes are what is left of them. */
  readonly events: number;
  readonly people: number;
}

const notes = ['Two new, both fine with the options', 'Mats were short by one', 'Slower on the floor today', 'Music off in the middle', 'Ladder of ten next week'] as const;
/** Moves at which this studio stops more often than at others. */
const hard = new Set(['reverse-lunge', 'plank', 'side-plank', 'split-squat', 'push-up']);
const STEP_MS = 20_000;

/** One class from its start to its end, as a log. */
export function held(told: Told, chance: Chance): Event[] {
  const { plan, startedAt, freeAt } = told;
  const events: Event[] = [];
  let session: Session | null = null;
  let at = startedAt;
  const say = (command: Command): boolean => {
    const decided = decide(session, command, at);
    if ('refused' in decided) return false;
    for (const event of decided.events) session = evolve(session, event);
    events.push(...decided.events);
    return true;
  };
  say({ type: 'start', session: told.id, room: told.room, plan, facts, settings: { countInMs: 3_000 }, freeAt });
  let s = session as unknown as Session;
  say({ type: 'head-count', n: told.people });
  let cut = false;
  for (let turn = 0; turn < 2_000; turn += 1) {
    s = session as unknown as Session;
    const v = view(s, at);
    if (v.over) break;
    if (v.waits) {
      at = after(at, Math.round(longTailed(chance, (v.interval?.lengthMs ?? 20_000) * 1.15, 0.35)));
      say({ type: 'go', occurrence: view(s, at).occurrence });
      continue;
    }
    const stops = v.phase === 'work' && chance() < (hard.has(v.movement ?? '') ? 0.09 : 0.02);
    if (stops || chance() < 0.012) {
      say({ type: 'pause', reason: stops ? 'form' : pick(chance, ['water', 'question', null]) });
      at = after(at, Math.round(longTailed(chance, 25_000, 0.5)));
      say({ type: 'carry-on', pause: (session as unknown as Session).pauses });
    } else if (v.phase === 'work' && chance() < 0.05) {
      say(chance() < 0.6 ? { type: 'extend', occurrence: v.occurrence, byMs: 10_000 } : chance() < 0.5 ? { type: 'move-on', occurrence: v.occurrence } : { type: 'again', occurrence: v.occurrence });
    } else if (!cut && lateness(s, at).standing === 'late' && chance() < 0.25) {
      const [way] = ways(s, at, 3);
      cut = way !== undefined && say(way.command);
    } else if (events.length < told.events && chance() < 0.12) say({ type: 'note', text: pick(chance, notes) });
    at = after(at, Math.round(STEP_MS * (0.4 + chance())));
  }
  while (events.length < told.events) {
    const before = events.length;
    say(chance() < 0.5 ? { type: 'note', text: pick(chance, notes) } : { type: 'head-count', n: told.people + whole(chance, 0, 1) });
    if (events.length === before) say({ type: 'note', text: `${pick(chance, notes)}.` });
    at = after(at, 4_000);
  }
  return events;
}

/** The same log at another time, in another class: every instant in it moved by as much. */
export function moved(events: readonly Event[], told: Pick<Told, 'id' | 'room' | 'startedAt' | 'people'>): Event[] {
  const byMs = told.startedAt - (events[0]?.at ?? 0);
  return events.map((event): Event => {
    const at = after(event.at, byMs);
    if (event.type === 'started') return { ...event, at, session: told.id, room: told.room, freeAt: event.freeAt === null ? null : after(event.freeAt, byMs) };
    if (event.type === 'counted-heads') return { ...event, at, n: told.people };
    return { ...event, at };
  });
}
