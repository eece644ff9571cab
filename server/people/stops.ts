/**
 * Owns who may know that a class was stopped: whoever keeps the studio (the desk's
 * password) and a phone that teaches in that room. To all others a stop is a pause.
 */
import type { Request } from 'express';
import type { Event } from '../../shared/session/command.ts';
import { DESK_COOKIE, tokenIn } from '../pairing.ts';
import type { Studio } from '../studio.ts';

export function mayKnowOfStops({ phones, desk, clock }: Pick<Studio, 'phones' | 'desk' | 'clock'>, { headers }: Pick<Request, 'headers'>, started: Event | undefined): boolean {
  const now = clock.now();
  const room = started?.type === 'started' ? started.room : '';
  return desk.isIn(tokenIn(headers.cookie, DESK_COOKIE), now) || phones.may(tokenIn(headers.cookie), room, now);
}
