/**
 * Owns ways to use the time that a class is early: more work for everybody, one
 * round more, a water break. None goes past the promised end.
 */
import { BREAK_WATER_MS, SHARE_STEP_MS, WAY_CHANGES_MAX } from '../limits.ts';
import { after, between, type ServerAt } from '../time/units.ts';
import type { RunningCommand } from './command.ts';
import { lastOfRounds } from './commands/add-round.ts';
import { decide } from './decide.ts';
import { editBetween } from './edit.ts';
import { evolve } from './evolve.ts';
import { projectedEndAt } from './finish.ts';
import { mainWork } from './menu.ts';
import { occurrenceOf } from './place.ts';
import type { Session } from './session.ts';
import { settle } from './settle.ts';
import { shorter } from './ways.ts';

export interface Spare {
  readonly kind: 'longer' | 'round' | 'water';
  readonly command: RunningCommand;
  readonly endAt: ServerAt;
  /** How much of the time it uses. */
  readonly usesMs: number;
  /** Longer: how much more each side of each work of main gets, at most. */
  readonly shareMs: number;
}

/** What this command would make of the end, or null where it is refused. */
function endWith(s: Session, command: RunningCommand, at: ServerAt): ServerAt | null {
  const decided = decide(s, command, at);
  if ('refused' in decided) return null;
  const next = decided.events.reduce((session, event) => evolve(session, event), s);
  return projectedEndAt(next, at);
}

/** The largest step by which all work of main that has not begun can grow within the time; each by half at most. */
function longer(s: Session, spareMs: number): { command: RunningCommand; shareMs: number } | null {
  const groups = mainWork(s, s.intervals, s.anchor.index + 1);
  const most = (lengthMs: number) => Math.floor(lengthMs / 2 / SHARE_STEP_MS) * SHARE_STEP_MS;
  const byMs = (group: (typeof groups)[number], share: number) => Math.min(share, ...group.intervals.map((i) => most(i.lengthMs)));
  const top = groups.reduce((max, g) => Math.max(max, byMs(g, Number.POSITIVE_INFINITY)), 0);
  for (let share = top; share > 0; share -= SHARE_STEP_MS) {
    const sum = groups.reduce((total, g) => total + byMs(g, share) * g.intervals.length, 0);
    if (sum > spareMs) continue;
    const grown = new Map(groups.flatMap((g) => g.intervals.map((i) => [i, byMs(g, share)] as const)));
    const { changes } = editBetween(s.intervals, s.intervals.map((i) => shorter(i, -(grown.get(i) ?? 0))));
    if (changes.length === 0 || changes.length > WAY_CHANGES_MAX) return null;
    return { command: { type: 'take-way', kind: 'longer', changes, removed: [] }, shareMs: share };
  }
  return null;
}

/** At most three ways to use the time, the one that leaves least first; none where the class is not early. */
export function spare(session: Session, at: ServerAt): Spare[] {
  const s = settle(session, at);
  const endAt = projectedEndAt(s, at);
  const spareMs = between(endAt, s.promisedAt);
  if (s.over || spareMs <= 0) return [];
  const rounds = s.plan.sections.flatMap((section, k): Omit<Spare, 'endAt' | 'usesMs'>[] => {
    const last = s.intervals[lastOfRounds(s, k)];
    return section.kind === 'main' && last ? [{ kind: 'round', command: { type: 'add-round', section: k, after: last.id }, shareMs: 0 }] : [];
  });
  const more = longer(s, spareMs);
  const offers: Omit<Spare, 'endAt' | 'usesMs'>[] = [
    ...(more ? [{ kind: 'longer' as const, ...more }] : []),
    ...rounds,
    ...(spareMs >= BREAK_WATER_MS ? [{ kind: 'water' as const, command: { type: 'insert-break' as const, occurrence: occurrenceOf(s, s.anchor.index), of: 'water' as const }, shareMs: 0 }] : []),
  ];
  return offers
    .flatMap((offer): Spare[] => {
      const then = endWith(s, offer.command, at);
      const usesMs = then === null ? 0 : between(endAt, then);
      return usesMs > 0 && usesMs <= spareMs ? [{ ...offer, endAt: after(endAt, usesMs), usesMs }] : [];
    })
    .sort((a, b) => b.usesMs - a.usesMs)
    .slice(0, 3);
}
