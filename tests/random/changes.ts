/** Owns what random hands change of a class: rounds, movements, breaks, and ways to end on time. */
import type { Command } from '../../shared/session/command.ts';
import { lastOfRounds } from '../../shared/session/commands/add-round.ts';
import { lastRounds, restOfMovement } from '../../shared/session/rounds.ts';
import type { Session } from '../../shared/session/session.ts';
import { settle } from '../../shared/session/settle.ts';
import { spare } from '../../shared/session/spare.ts';
import { ways } from '../../shared/session/ways.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import { facts, type Kind, type Press } from './plans.ts';

const names = Object.keys(facts);
const none = ['none'];

/** A change that might be taken; a stale press names an interval that is not there. */
export function changeOf(session: Session, press: Press, kind: Kind, occurrence: string, at: ServerAt): Exclude<Command, { type: 'start' }> {
  const s = settle(session, at);
  const { index } = s.anchor;
  const section = s.intervals[Math.min(index + (press.n % 3) * 4, s.intervals.length - 1)]?.section ?? 0;
  const items = s.plan.sections[section]?.items ?? [];
  const item = items.length === 0 ? 0 : press.n % items.length;
  const named = (list: readonly { id: string }[] | null) => (press.stale || !list?.length ? none : list.map((i) => i.id));
  switch (kind) {
    case 'drop-round': return { type: 'drop-round', section, intervals: named(lastRounds(s.intervals, section, 1, index)) };
    case 'add-round': return { type: 'add-round', section, after: press.stale ? 'none' : (s.intervals[lastOfRounds(s, section)]?.id ?? 'none') };
    case 'leave-out': return { type: 'leave-out', section, item, intervals: named(restOfMovement(s.intervals, section, item, index)) };
    case 'change': {
      const to = names[(press.n * 7) % names.length] ?? 'squat';
      const known = facts[to];
      if (!known) throw new Error(to);
      return { type: 'change', section, item, to, facts: known, intervals: named(restOfMovement(s.intervals, section, item, index)) };
    }
    case 'insert-break': return { type: 'insert-break', occurrence, of: press.n % 2 === 0 ? 'water' : 'rest' };
    case 'lengthen-show': return { type: 'lengthen-show', interval: s.intervals.find((i, k) => k > index && i.kind === 'show')?.id ?? 'none', byMs: press.n * 1_000 };
    case 'repeat': return { type: 'repeat', occurrence };
    case 'to-cool-down': return { type: 'to-cool-down', occurrence };
    case 'take-way': {
      const all = [...ways(s, at), ...spare(s, at)];
      return all[press.n % Math.max(1, all.length)]?.command ?? { type: 'take-way', kind: 'tighter', changes: [], removed: [] };
    }
    case 'undo': return { type: 'undo', change: press.stale ? s.changes + 1 : Math.max(1, s.changes) };
    default: throw new Error(`no change: ${kind}`);
  }
}
