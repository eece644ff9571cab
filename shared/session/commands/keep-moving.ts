/**
 * Owns keeping moving: an easy march with no end of its own, while the instructor walks
 * over to somebody. Stopping dead is itself a cause of dizziness. After long standing it
 * is the easy movement that comes before carrying on: its length is an aim, and nothing
 * ends it by itself.
 */
import { z } from 'zod';
import { EASY_AFTER_MS, EASY_MS } from '../../limits.ts';
import { after, between, type ServerAt } from '../../time/units.ts';
import type { Session } from '../session.ts';
import { at, type Decided, here, ms, standStill } from './common.ts';

export const schema = z.strictObject({ type: z.literal('keep-moving') });
export const eventSchema = z.strictObject({ type: z.literal('kept-moving'), at, aimMs: ms.min(1).nullable() });
type KeptMoving = z.infer<typeof eventSchema>;

/** From when on the room has stood so long that it should move before it works; null where it does not stand. */
export const easyFromAt = (s: Session): ServerAt | null =>
  s.pause?.what === 'pause' ? after(s.pause.stoodSince, EASY_AFTER_MS) : null;

export function decide(s: Session, _command: z.infer<typeof schema>, now: ServerAt): Decided<KeptMoving> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  if (s.pause?.what === 'keep-moving') return { events: [] };
  const from = easyFromAt(s);
  return { events: [{ type: 'kept-moving', at: now, aimMs: from !== null && between(from, now) > 0 ? EASY_MS : null }] };
}

export const evolve = (s: Session, e: KeptMoving): Session =>
  standStill(s, 'keep-moving', e.at, { aimAt: e.aimMs === null ? null : after(e.at, e.aimMs) });
