/** Owns what a press means: the command that the phone would send for what it shows at that instant. */
import type { Room } from '../../shared/link/types.ts';
import type { RunningCommand } from '../../shared/session/command.ts';
import { offers } from '../../shared/session/offers.ts';
import { placeAt } from '../../shared/session/place.ts';
import { type Session, stopAnswers, stopStamps } from '../../shared/session/session.ts';
import { spare } from '../../shared/session/spare.ts';
import { ways } from '../../shared/session/ways.ts';
import { after, type ServerAt, serverAt } from '../../shared/time/units.ts';
import { controls } from '../../shared/view/controls.ts';
import type { ChangeById, StartById } from '../../shared/wire/messages/command.ts';
import { facts } from '../random/plans.ts';
import type { PressKind } from './story.ts';

/** The floor must be free after so many of these. */
const HALF_MINUTE_MS = 30_000;

export function commandFor(room: Room, what: PressKind, n: number): RunningCommand | StartById | ChangeById | null {
  const { session } = room;
  const at = room.now() ?? serverAt(0);
  const over = session === null || placeAt(session, at).over !== null;
  // Every other note or head count is a change of the class instead: one of all that its phone offers.
  if (session && !over && n % 2 === 0 && (what === 'note' || what === 'head-count')) {
    const all = changes(session, at);
    return all[(n / 2) % Math.max(1, all.length)] ?? null;
  }
  // And of the rest every other one what stops a class or keeps it moving, and another movement.
  if (session && !over && n % 4 === 1 && (what === 'note' || what === 'head-count')) {
    const all = otherwise(session, at, n);
    return all[(n >> 2) % Math.max(1, all.length)] ?? null;
  }
  if (what === 'note') return session ? { type: 'note', text: `note ${n}` } : null;
  if (what === 'head-count') return session ? { type: 'head-count', n } : null;
  if (what === 'here' || what === 'hand-over' || what === 'takes' || what === 'lead') return null;
  if (what === 'stop' || what === 'keepMoving' || what === 'toPaused') return over ? null : controls(session, at)[what];
  if (over) return { type: 'start', plan: 'random', freeAt: n % 2 === 0 ? after(at, n * HALF_MINUTE_MS) : null };
  const c = controls(session, at);
  if (what === 'end') return { type: 'end' };
  if (what === 'evenUp') return c.evenUp?.command ?? c.big;
  return c[what] ?? c.big;
}

/** Stopping, its answers and the way back, keeping moving, and changing a movement for some other. */
function otherwise(session: Session, at: ServerAt, n: number): (RunningCommand | ChangeById)[] {
  const { stop, keepMoving, easyFirst, toPaused } = controls(session, at);
  if (toPaused) {
    return [
      toPaused, ...stopAnswers.map((of) => ({ type: 'answer-stop' as const, what: of })),
      ...stopStamps.map((of) => ({ type: 'stamp-stop' as const, what: of })),
    ];
  }
  const others = Object.keys(facts);
  return [
    stop, keepMoving, easyFirst,
    ...offers(session, at).movements.map(({ section, item, intervals }, k): ChangeById =>
      ({ type: 'change', section, item, intervals: [...intervals], to: others[(n + k) % others.length] ?? '' })),
  ].filter((c) => c !== null);
}

/** Rounds, movements, breaks, the ways to end on time and to use time, and taking back: what the phone would send. */
function changes(session: Session, at: ServerAt): RunningCommand[] {
  const o = offers(session, at);
  return [
    ...o.rounds.flatMap((r) => [r.drop, r.add]), ...o.movements.map((m) => m.leaveOut),
    o.rest, o.water, o.lengthenShow, o.repeat, o.toCoolDown, o.undo?.command ?? null,
    ...ways(session, at).map((w) => w.command), ...spare(session, at).map((w) => w.command),
  ].filter((c) => c !== null);
}
