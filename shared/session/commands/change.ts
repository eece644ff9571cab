/**
 * Owns changing a movement for another in all rounds that have not begun with it.
 * What it needs to know of the other comes with the command, so that the log stays
 * whole. One that was not shown yet is shown first, where its section shows.
 */
import { z } from 'zod';
import { INTERVALS_MAX } from '../../limits.ts';
import { factsSchema } from '../../plan/facts.ts';
import type { Interval } from '../../plan/interval.ts';
import { showWay } from '../../plan/pieces.ts';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, editBetween, editSchema } from '../edit.ts';
import { refuse } from '../refusal.ts';
import { compiledSection, mayAdd, renamed, restOfMovement } from '../rounds.ts';
import type { Session } from '../session.ts';
import { fitSetUps } from '../set-ups.ts';
import { at, type Decided, here, intervalId, namesAll } from './common.ts';

const [section, item, to] = [z.int().min(0), z.int().min(0), z.string().min(1).max(60)];
/** As a phone says it; the server adds what the library knows of the movement. */
export const byIdSchema = z.strictObject({
  type: z.literal('change'), section, item, to, intervals: z.array(intervalId).min(1).max(INTERVALS_MAX),
});
export const schema = byIdSchema.extend({ facts: factsSchema });
export const eventSchema = z.strictObject({ type: z.literal('changed'), at, section, item, to, facts: factsSchema, edit: editSchema });
type Changed = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<Changed> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const all = restOfMovement(s.intervals, command.section, command.item, h.place.index);
  const work = all.filter((i) => i.kind === 'work');
  if (!work[0]) return refuse('none-left');
  if (work.some((i) => i.movement === command.to)) return refuse('same-movement');
  if (!namesAll(command.intervals, all)) return refuse('too-late');
  if (!mayAdd(s)) return refuse('enough');
  const as = { ...s, ...also(s, command) };
  const edit = editBetween(s.intervals, fitSetUps(as, put(as, command, all)));
  const { section: in_, item: which, facts } = command;
  return { events: [{ type: 'changed', at: now, section: in_, item: which, to: command.to, facts, edit }] };
}

const restful = (i: Interval): boolean => i.kind === 'rest' || (i.kind === 'show' && i.ends === 'clock');

/** The list with the other movement in each of its rounds; a rest that runs stays as it is. */
function put(s: Session, command: z.infer<typeof schema>, all: readonly Interval[]): Interval[] {
  const out = new Set(all);
  const afresh = compiledSection(s, command.section, Math.max(...all.map((i) => i.round)))
    .filter((i) => i.item === command.item && !(i.kind === 'show' && i.ends === 'go'));
  let show = showOf(s, command, all);
  const done = new Set<number>();
  return s.intervals.flatMap((i): Interval[] => {
    if (!out.has(i)) return [i];
    if (done.has(i.round)) return [];
    done.add(i.round);
    const rests = all.some((a) => a.round === i.round && restful(a));
    const its = afresh.filter((a) => a.round === i.round && (rests || !restful(a)));
    const first = its.findIndex((a) => !restful(a));
    const shown = show ? [...its.slice(0, Math.max(0, first)), { ...show, round: i.round }, ...its.slice(Math.max(0, first))] : its;
    show = null;
    return renamed(s, shown);
  });
}

/** The show it gets: one that was planned, or one of its own where its section shows and it was never shown. */
function showOf(s: Session, { section: index, item: which, to: movement }: z.infer<typeof schema>, all: readonly Interval[]): Interval | null {
  const planned = s.plan.sections[index];
  if (!planned || s.intervals.some((i) => i.kind === 'show' && i.movement === movement)) return null;
  const shows = showWay(planned) !== 'none' && planned.items[which]?.show !== false;
  if (!shows && !all.some((i) => i.kind === 'show')) return null;
  const lengthMs = s.estimates[movement] ?? Math.round(planned.showEstimate * 1_000);
  return { id: `${index}.${which}.show`, kind: 'show', ends: 'go', lengthMs, section: index, round: 0, item: which, movement };
}

const also = (s: Session, c: Pick<Changed, 'section' | 'item' | 'to' | 'facts'>) => ({
  facts: { ...s.facts, [c.to]: c.facts },
  replaced: { ...s.replaced, [`${c.section}.${c.item}`]: c.to },
});

export const evolve = (s: Session, e: Changed): Session => carryOut(s, e.edit, e.type, also(s, e));
