/** Owns how many requests one address may make; this machine itself only where the studio asked for it. */
import type { RequestHandler } from 'express';
import { REQUESTS_RATE } from '../../shared/limits.ts';
import { Bucket } from './bucket.ts';
import { isLoopback } from './crowd.ts';

/** Addresses remembered at most; the quiet ones are forgotten first. */
const REMEMBERED_MAX = 10_000;

/** 429 (RFC 6585 section 4) for one that asks too much. @param nowMs milliseconds of a clock that does not go back */
export function limitRequests(limitLoopback: boolean, nowMs: () => number): RequestHandler {
  const known = new Map<string, Bucket>();
  return (request, response, next) => {
    const address = request.socket.remoteAddress ?? '';
    if (!limitLoopback && isLoopback(address)) return next();
    const now = nowMs();
    if (known.size >= REMEMBERED_MAX) for (const [a, b] of known) if (b.full(now)) known.delete(a);
    const bucket = known.get(address) ?? new Bucket(REQUESTS_RATE, now);
    if (known.size < REMEMBERED_MAX) known.set(address, bucket);
    if (bucket.take(now)) return next();
    response.set('Retry-After', '10').status(429).json({ error: 'This device asks too much at once. Wait ten seconds.' });
  };
}
