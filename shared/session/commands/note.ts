/** Owns notes and head counts: about the class, taken even after it is over. */
import { z } from 'zod';
import { HEAD_COUNT_MAX } from '../../limits.ts';
import type { ServerAt } from '../../time/units.ts';
import { noteText, type Session } from '../session.ts';
import { at, type Decided } from './common.ts';

const n = z.int().min(0).max(HEAD_COUNT_MAX);
export const schema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('note'), text: noteText }),
  z.strictObject({ type: z.literal('head-count'), n }),
]);
export const eventSchema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('noted'), at, text: noteText }),
  z.strictObject({ type: z.literal('counted-heads'), at, n }),
]);
type NoteEvent = z.infer<typeof eventSchema>;

export function decide(_s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<NoteEvent> {
  switch (command.type) {
    case 'note': return { events: [{ type: 'noted', at: now, text: command.text }] };
    case 'head-count': return { events: [{ type: 'counted-heads', at: now, n: command.n }] };
  }
}

export function evolve(s: Session, e: NoteEvent): Session {
  switch (e.type) {
    case 'noted': return { ...s, notes: [...s.notes, { at: e.at, text: e.text }] };
    case 'counted-heads': return { ...s, headCount: e.n };
  }
}
