/** Owns when the phone looks at the clock again: just after the next visible edge, and once a second for the lateness line. */
import { useEffect, useReducer } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { between, type ServerAt } from '../../../shared/time/units.ts';
import { view } from '../../../shared/view/view.ts';

const EACH_MS = 1_000;
/** Timers may fire a little early; this much later is never seen. */
const SLACK_MS = 4;

/** The server's instant to draw; null before the first sample. */
export function useInstant(room: Room): ServerAt | null {
  const [turn, look] = useReducer((n: number) => n + 1, 0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each look sets the timer of the next
  useEffect(() => {
    const now = room.now();
    const edgeAt = room.session && now !== null ? view(room.session, now).nextEdgeAt : null;
    const wait = edgeAt === null || now === null ? EACH_MS : Math.min(EACH_MS, between(now, edgeAt) + SLACK_MS);
    const timer = setTimeout(look, Math.max(SLACK_MS, wait));
    return () => clearTimeout(timer);
  }, [room, turn]);
  return room.now();
}
