/** Owns holding classes straight into a keeper, without a server: what a week of a studio leaves in its log. */
import { summaryOf } from '../../server/core/summary.ts';
import type { Store } from '../../server/core/store.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import type { Command } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { facts } from '../random/plans.ts';

const plan = planSchema.parse({ format: 1, id: 'small', name: 'Small class', sections: [{ id: 'm', kind: 'main', show: 'none', work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'bridge' }] }] });

export interface Taught {
  readonly id: string;
  readonly say: (command: Command) => Promise<void>;
  /** Notes, so many. */
  readonly note: (n: number) => Promise<void>;
  readonly end: () => Promise<void>;
}

/** Starts a class in a room; each command a second after the one before. */
export async function teach(store: Pick<Store, 'append'>, id: string, room: string, startAt: ServerAt): Promise<Taught> {
  let session: Session | null = null;
  let at = startAt;
  let seq = 0;
  let notes = 0;
  const say = async (command: Command): Promise<void> => {
    const decided = decide(session, command, at);
    if ('refused' in decided) throw new Error(`${command.type}: ${decided.refused.sentence}`);
    const next = decided.events.reduce<Session | null>(evolve, session);
    if (!next) throw new Error('no class');
    const stored = await store.append({ summary: summaryOf(next, next.lastAt), seq: seq + 1, command: `${id}-${seq}`, events: decided.events });
    if (stored !== 'stored') throw new Error(`${id} ${seq}: ${stored}`);
    session = next;
    seq += decided.events.length;
    at = after(at, 1_000);
  };
  await say({ type: 'start', session: id, room, plan, facts, settings: { countInMs: 3_000 }, freeAt: null });
  return {
    id, say,
    note: async (n) => {
      for (let i = 0; i < n; i += 1) {
        notes += 1;
        await say({ type: 'note', text: `note ${notes}` });
      }
    },
    end: () => say({ type: 'end' }),
  };
}
