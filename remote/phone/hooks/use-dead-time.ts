/** Owns the dead time: after a control's meaning changes it takes no tap for a moment, so that a double tap means one thing. */
import { useCallback, useRef } from 'react';

export const DEAD_MS = 700;

/**
 * Whether a tap counts now. The meaning it had when the page first saw it has no dead time,
 * unless the control came to lie under a finger that had just pressed another.
 */
export function useDeadTime(meaning: string, fromTheStart = false): () => boolean {
  const seen = useRef({ meaning, since: fromTheStart ? performance.now() : Number.NEGATIVE_INFINITY });
  if (seen.current.meaning !== meaning) seen.current = { meaning, since: performance.now() };
  return useCallback(() => performance.now() - seen.current.since >= DEAD_MS, []);
}
