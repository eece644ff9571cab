/** Owns that whoever was let in through one server is let in through the others, also in the moment before they have heard of it. */
import type { RequestHandler } from 'express';
import { COOKIE, DESK_COOKIE, tokenIn } from '../pairing.ts';
import type { Studio } from '../studio.ts';

/** Between two looks for tokens that are not known here: whoever makes some up asks the database no oftener. */
const LOOK_AGAIN_MS = 250;

/** Looks for a token that is not known here where other servers may know it. @param nowMs of a monotonic clock */
export function fresh(studio: Studio, nowMs: () => number): RequestHandler {
  const { desk, phones, clock, renewPhones } = studio;
  if (!studio.files.shared) return (_request, _response, next) => next();
  let last: { readonly at: number; readonly done: Promise<unknown> } | null = null;
  const look = (): Promise<unknown> => {
    if (last === null || nowMs() - last.at > LOOK_AGAIN_MS) last = { at: nowMs(), done: Promise.all([desk.renew(), renewPhones().catch(() => {})]) };
    return last.done;
  };
  return async ({ headers }, _response, next) => {
    const [phone, sat] = [tokenIn(headers.cookie, COOKIE), tokenIn(headers.cookie, DESK_COOKIE)];
    const known = (phone === null || phones.known(phone, clock.now())) && (sat === null || desk.isIn(sat, clock.now()));
    if (!known) await look();
    next();
  };
}
