/** Owns the union of all commands and of all events: one file each in commands/. */
import { z } from 'zod';
import * as again from './commands/again.ts';
import * as carryOn from './commands/carry-on.ts';
import * as changeSides from './commands/change-sides.ts';
import * as end from './commands/end.ts';
import * as evenUp from './commands/even-up.ts';
import * as extend from './commands/extend.ts';
import * as go from './commands/go.ts';
import * as moveOn from './commands/move-on.ts';
import * as note from './commands/note.ts';
import * as pause from './commands/pause.ts';
import * as start from './commands/start.ts';
import * as wait from './commands/wait.ts';

/** What a phone or a screen may say about a running class. */
export const runningCommandSchema = z.discriminatedUnion('type', [
  go.schema, wait.schema, pause.schema, carryOn.schema, again.schema, moveOn.schema, changeSides.schema,
  extend.schema, evenUp.schema, note.schema, end.schema,
]);
export type RunningCommand = z.infer<typeof runningCommandSchema>;
export type StartCommand = z.infer<typeof start.schema>;
export type Command = RunningCommand | StartCommand;

export const eventSchema = z.discriminatedUnion('type', [
  start.eventSchema, go.eventSchema, wait.eventSchema, pause.eventSchema, carryOn.eventSchema, again.eventSchema,
  moveOn.eventSchema, changeSides.eventSchema, extend.eventSchema, evenUp.eventSchema, note.eventSchema, end.eventSchema,
]);
export type Event = z.infer<typeof eventSchema>;
export type EventType = Event['type'];
