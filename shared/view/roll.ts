/**
 * Owns the roll of a class: every interval that was ever in its list, in the order
 * of the class, and what took out those that are not in it any more.
 */
import type { Interval } from '../plan/interval.ts';
import type { EventType } from '../session/command.ts';

export interface Roll {
  readonly known: ReadonlyMap<string, Interval>;
  readonly list: () => readonly Interval[];
  /** The kind of event that took it out; null while it is in the list. */
  readonly outBy: (id: string) => EventType | null;
  /** The list as an event has left it. */
  readonly follow: (now: readonly Interval[], by: EventType) => void;
}

export function openRoll(first: readonly Interval[]): Roll {
  const known = new Map(first.map((i) => [i.id, i]));
  const out = new Map<string, EventType>();
  let order = first.map((i) => i.id);
  let list = first;
  return {
    known,
    list: () => order.flatMap((id) => known.get(id) ?? []),
    outBy: (id) => out.get(id) ?? null,
    follow: (now, by) => {
      if (now === list) return;
      list = now;
      const there = new Set(now.map((i) => i.id));
      for (const id of order) if (!there.has(id) && !out.has(id)) out.set(id, by);
      // What is new comes right after the one before it; what went out keeps its place.
      let before = -1;
      for (const i of now) {
        out.delete(i.id);
        if (known.has(i.id)) before = order.indexOf(i.id, Math.max(0, before));
        else {
          before += 1;
          order = [...order.slice(0, before), i.id, ...order.slice(before)];
        }
        known.set(i.id, i);
      }
    },
  };
}
