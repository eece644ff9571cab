/**
 * Owns the stop: pressed in any state, its first effect is harmless, so that one plain
 * tap is enough. What it is for is said afterwards; the way back is always to a pause.
 * Leaves alone a stop where no class runs (server/core/room-stop.ts) and how it looks.
 */
import { z } from 'zod';
import { STOP_UNTOUCHED_MS } from '../../limits.ts';
import { between, type ServerAt } from '../../time/units.ts';
import { refuse } from '../refusal.ts';
import { type Session, type Stop, type StopAnswer, stopAnswers, stopStamps } from '../session.ts';
import { at, type Decided, here, standStill } from './common.ts';

export const schemas = [
  z.strictObject({ type: z.literal('stop') }),
  z.strictObject({ type: z.literal('answer-stop'), what: z.enum(stopAnswers) }),
  z.strictObject({ type: z.literal('stamp-stop'), what: z.enum(stopStamps) }),
  z.strictObject({ type: z.literal('to-paused') }),
] as const;
export type StopCommand = z.infer<(typeof schemas)[number]>;
export const eventSchemas = [
  z.strictObject({ type: z.literal('stopped'), at }),
  z.strictObject({ type: z.literal('stop-answered'), at, what: z.enum(stopAnswers) }),
  z.strictObject({ type: z.literal('stop-stamped'), at, what: z.enum(stopStamps) }),
  z.strictObject({ type: z.literal('came-back'), at }),
] as const;
type StopEvent = z.infer<(typeof eventSchemas)[number]>;

export const isStopCommand = (command: { readonly type: string }): command is StopCommand =>
  command.type === 'stop' || command.type === 'answer-stop' || command.type === 'stamp-stop' || command.type === 'to-paused';

const nothingYet: Stop = { answer: null, helpCalledAt: null, helpHereAt: null };
const fieldOf = { 'help-called': 'helpCalledAt', 'help-here': 'helpHereAt' } as const;

/** What a stop is for: as somebody said, and untouched for a while that somebody needs help. */
export const answerOf = (stop: Pick<Stop, 'answer'>, since: ServerAt, now: ServerAt): StopAnswer | null =>
  stop.answer ?? (between(since, now) >= STOP_UNTOUCHED_MS ? 'help' : null);

export function decide(s: Session, command: StopCommand, now: ServerAt): Decided<StopEvent> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const stop = s.pause?.stop ?? null;
  if (command.type === 'stop') return { events: stop ? [] : [{ type: 'stopped', at: now }] };
  if (!stop) return refuse('not-stopped');
  switch (command.type) {
    case 'answer-stop': return { events: stop.answer === command.what ? [] : [{ type: 'stop-answered', at: now, what: command.what }] };
    case 'stamp-stop': return { events: stop[fieldOf[command.what]] === null ? [{ type: 'stop-stamped', at: now, what: command.what }] : [] };
    case 'to-paused': return { events: [{ type: 'came-back', at: now }] };
  }
}

export function evolve(s: Session, e: StopEvent): Session {
  const { pause } = s;
  if (e.type === 'stopped') return standStill(s, 'stop', e.at, { stop: nothingYet });
  if (!pause?.stop) return s;
  switch (e.type) {
    case 'stop-answered': return { ...s, pause: { ...pause, stop: answered(pause.stop, e.what) } };
    case 'stop-stamped': return { ...s, pause: { ...pause, stop: stamped(pause.stop, e.what, e.at) } };
    case 'came-back': return { ...standStill(s, 'pause', e.at, { quiet: true }), wasStopped: s.wasStopped || answerOf(pause.stop, pause.since, e.at) !== null };
  }
}

export const answered = (stop: Stop, answer: StopAnswer): Stop => ({ ...stop, answer });
/** Each stamp once; the first counts. */
export const stamped = (stop: Stop, what: keyof typeof fieldOf, now: ServerAt): Stop => ({ ...stop, [fieldOf[what]]: stop[fieldOf[what]] ?? now });
export { nothingYet };
