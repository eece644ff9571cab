/** Owns what a command leads to: events, or a refusal with its reason. All rules are here and in commands/. */
import type { ServerAt } from '../time/units.ts';
import type { Command, Event } from './command.ts';
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
import type { Decided } from './commands/common.ts';
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
import { placeAt } from './place.ts';
import { refuse } from './refusal.ts';
import type { Session } from './session.ts';
import { settle } from './settle.ts';

/**
 * @param session the class as its log says it stands, or null where there is none
 * @param now not before the newest event
 */
export function decide(session: Session | null, command: Command, now: ServerAt): Decided<Event> {
  if (command.type === 'start') {
    return session && !placeAt(session, now).over ? refuse('already-running') : start.decide(command, now);
  }
  if (!session) return refuse('no-class');
  const s = lapse(settle(session, now));
  if (s.pause?.stop && !inAStop(command)) return refuse('stopped');
  switch (command.type) {
    case 'go': return go.decide(s, command, now);
    case 'wait': return wait.decide(s, command, now);
    case 'pause': return pause.decide(s, command, now);
    case 'carry-on': return carryOn.decide(s, command, now);
    case 'again': return again.decide(s, command, now);
    case 'move-on': return moveOn.decide(s, command, now);
    case 'change-sides': return changeSides.decide(s, command, now);
    case 'extend':
    case 'shorten': return extend.decide(s, command, now);
    case 'even-up': return evenUp.decide(s, command, now);
    case 'note':
    case 'head-count': return note.decide(s, command, now);
    case 'end': return end.decide(s, command, now);
    case 'add-round': return addRound.decide(s, command, now);
    case 'change': return change.decide(s, command, now);
    case 'drop-round': return dropRound.decide(s, command, now);
    case 'insert-break': return insertBreak.decide(s, command, now);
    case 'leave-out': return leaveOut.decide(s, command, now);
    case 'lengthen-show': return lengthenShow.decide(s, command, now);
    case 'repeat': return repeat.decide(s, command, now);
    case 'take-way': return takeWay.decide(s, command, now);
    case 'to-cool-down': return toCoolDown.decide(s, command, now);
    case 'undo': return undo.decide(s, command, now);
    case 'keep-moving': return keepMoving.decide(s, command, now);
    case 'stop':
    case 'answer-stop':
    case 'stamp-stop':
    case 'to-paused': return stop.decide(s, command, now);
    default: return never(command);
  }
}

/** What is taken while a room is stopped; nothing that could set anything going. */
const inAStop = (command: Command): boolean => stop.isStopCommand(command) || command.type === 'note' || command.type === 'head-count';

function never(command: never): never {
  throw new Error(`a command that nobody decides: ${JSON.stringify(command)}`);
}
