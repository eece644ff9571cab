/**
 * Owns changes of the list in the second model, as their events say them. It only
 * refuses what touches the past; what may be changed is the real one's business.
 */
import type { Interval } from '../../shared/plan/interval.ts';
import type { Slot, TickModel } from './tick.ts';

interface Changes {
  readonly changes: readonly { interval: string; byMs: number; ends?: 'clock' | 'go' | undefined }[];
  readonly removed: readonly string[];
  readonly added: readonly { after: string; intervals: readonly Interval[] }[];
}

/** @param to where the class goes at once, or null where it stays */
export function changeList(m: TickModel, edit: Changes, to: string | null): void {
  const place = (id: string) => {
    const k = m.slots.findIndex((s) => s.id === id);
    if (k < 0) throw new Error(`a change names ${id}, which is not there`);
    return k;
  };
  const future = (id: string) => {
    const k = place(id);
    if (k <= m.cursor && to === null) throw new Error(`a change touches ${id}, which has begun`);
    return k;
  };
  for (const c of edit.changes) {
    const s = m.slots[future(c.interval)] as Slot;
    s.lengthMs += c.byMs;
    s.ends = c.ends ?? s.ends;
    if (s.lengthMs <= 0) throw new Error(`${c.interval} has nothing left`);
  }
  for (const a of edit.added) {
    if (to === null && place(a.after) < m.cursor) throw new Error(`a change puts something behind ${a.after}, into the past`);
    m.slots.splice(place(a.after) + 1, 0, ...a.intervals.map((i) => ({ ...i })));
  }
  for (const id of edit.removed) m.slots.splice(future(id), 1);
  if (to === null) return;
  m.back += 1;
  m.jump(place(to));
}

/** Off to the first section of this kind that is still to come, past its rest. */
export function leaveFor(m: TickModel, sections: readonly boolean[]): boolean {
  const slot = m.slots[m.cursor];
  if (m.over || !slot || sections[slot.section]) return false;
  const to = m.slots.findIndex((s, k) => k > m.cursor && sections[s.section] && s.kind !== 'rest');
  return to < 0 ? false : m.jump(to);
}
