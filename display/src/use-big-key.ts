/**
 * Owns the keyboard, clicker or pedal at the screen: one press does the one big
 * thing (go, pause, carry on), as the phone's big control would. A held key is one
 * press, and a press right after the meaning has changed counts for nothing.
 */
import { useEffect, useRef } from 'react';
import type { Room } from '../../shared/link/types.ts';
import { controls } from '../../shared/view/controls.ts';
import type { View } from '../../shared/view/view.ts';

export const BIG_KEYS = new Set([' ', 'Enter', 'PageDown']);
/** A double tap means one thing. */
export const DEAD_MS = 700;

const meaningOf = (v: View | null): string => (!v || v.phase === 'over' ? 'none' : v.paused ? 'carry-on' : v.waits ? 'go' : 'pause');

export function useBigKey(room: Room, shown: View | null): void {
  const latest = useRef(room);
  latest.current = room;
  const meaning = meaningOf(shown);
  const since = useRef({ meaning, at: Number.NEGATIVE_INFINITY });
  if (since.current.meaning !== meaning) since.current = { meaning, at: performance.now() };
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!BIG_KEYS.has(event.key) || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      const { session, now, send } = latest.current;
      const at = now();
      if (event.repeat || !session || at === null || performance.now() - since.current.at < DEAD_MS) return;
      const { big } = controls(session, at);
      if (!big) return;
      since.current = { ...since.current, at: performance.now() };
      void send(big);
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}
