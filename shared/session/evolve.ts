/** Owns folding events into a session. Has no opinions: an event is carried out as it says. */
import type { Event } from './command.ts';
import * as addRound from './commands/add-round.ts';
import * as change from './commands/change.ts';
import * as dropRound from './commands/drop-round.ts';
import * as insertBreak from './commands/insert-break.ts';
import * as leaveOut from './commands/leave-out.ts';
import * as lengthenShow from './commands/lengthen-show.ts';
import * as repeat from './commands/repeat.ts';
import * as takeWay from './commands/take-way.ts';
import * as toCoolDown from './commands/to-cool-down.ts';
import * as undo from './commands/undo.ts';
import * as again from './commands/again.ts';
import * as carryOn from './commands/carry-on.ts';
import * as changeSides from './commands/change-sides.ts';
import * as end from './commands/end.ts';
import * as evenUp from './commands/even-up.ts';
import * as extend from './commands/extend.ts';
import * as go from './commands/go.ts';
import * as keepMoving from './commands/keep-moving.ts';
import * as moveOn from './commands/move-on.ts';
import * as note from './commands/note.ts';
import * as pause from './commands/pause.ts';
import * as start from './commands/start.ts';
import * as stop from './commands/stop.ts';
import * as wait from './commands/wait.ts';
import { lapse } from './edit.ts';
import { lateness } from './finish.ts';
import type { Session } from './session.ts';
import { settle } from './settle.ts';

export function evolve(session: Session | null, event: Event): Session {
  if (event.type === 'started') return start.evolve(event);
  if (!session) throw new Error(`a log must begin with "started", not with "${event.type}"`);
  const next = { ...apply(lapse(settle(session, event.at)), event), lastAt: event.at };
  return { ...next, standing: lateness(next, event.at).standing };
}

function apply(s: Session, e: Exclude<Event, { type: 'started' }>): Session {
  switch (e.type) {
    case 'went':
    case 'readied': return go.evolve(s, e);
    case 'waited': return wait.evolve(s, e);
    case 'paused':
    case 'reason-given': return pause.evolve(s, e);
    case 'carried-on': return carryOn.evolve(s, e);
    case 'went-back': return again.evolve(s, e);
    case 'moved-on': return moveOn.evolve(s, e);
    case 'sides-changed': return changeSides.evolve(s, e);
    case 'extended':
    case 'shortened': return extend.evolve(s, e);
    case 'evened-up': return evenUp.evolve(s, e);
    case 'noted':
    case 'counted-heads': return note.evolve(s, e);
    case 'ended': return end.evolve(s, e);
    case 'round-added': return addRound.evolve(s, e);
    case 'changed': return change.evolve(s, e);
    case 'round-dropped': return dropRound.evolve(s, e);
    case 'break-inserted': return insertBreak.evolve(s, e);
    case 'left-out': return leaveOut.evolve(s, e);
    case 'show-lengthened': return lengthenShow.evolve(s, e);
    case 'repeated': return repeat.evolve(s, e);
    case 'way-taken': return takeWay.evolve(s, e);
    case 'cooled-down': return toCoolDown.evolve(s, e);
    case 'undone': return undo.evolve(s, e);
    case 'kept-moving': return keepMoving.evolve(s, e);
    case 'stopped':
    case 'stop-answered':
    case 'stop-stamped':
    case 'came-back': return stop.evolve(s, e);
    default: return never(e);
  }
}

function never(event: never): never {
  throw new Error(`an event that nobody carries out: ${JSON.stringify(event)}`);
}

/** The session that a whole log adds up to; null for an empty one. */
export const replay = (events: readonly Event[]): Session | null =>
  events.reduce<Session | null>((session, event) => evolve(session, event), null);
