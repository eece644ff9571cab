/** Owns the union of all commands and of all events: one file each in commands/. */
import { z } from 'zod';
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

/** What a phone or a screen may say about a running class; start and change are completed by the server. */
export const runningCommandSchema = z.discriminatedUnion('type', [
  go.schema, wait.schema, pause.schema, carryOn.schema, again.schema, moveOn.schema, changeSides.schema,
  extend.schema, evenUp.schema, note.schema, end.schema,
  dropRound.schema, addRound.schema, leaveOut.schema, insertBreak.schema, lengthenShow.schema, repeat.schema,
  toCoolDown.schema, takeWay.schema, undo.schema, keepMoving.schema, ...stop.schemas,
]);
export type RunningCommand = z.infer<typeof runningCommandSchema>;
export type StartCommand = z.infer<typeof start.schema>;
export type ChangeCommand = z.infer<typeof change.schema>;
export type Command = RunningCommand | StartCommand | ChangeCommand;

export const eventSchema = z.discriminatedUnion('type', [
  start.eventSchema, go.eventSchema, wait.eventSchema, pause.eventSchema, carryOn.eventSchema, again.eventSchema,
  moveOn.eventSchema, changeSides.eventSchema, extend.eventSchema, evenUp.eventSchema, note.eventSchema, end.eventSchema,
  dropRound.eventSchema, addRound.eventSchema, leaveOut.eventSchema, change.eventSchema, insertBreak.eventSchema,
  lengthenShow.eventSchema, repeat.eventSchema, toCoolDown.eventSchema, takeWay.eventSchema, undo.eventSchema,
  keepMoving.eventSchema, ...stop.eventSchemas,
]);
export type Event = z.infer<typeof eventSchema>;
export type EventType = Event['type'];
