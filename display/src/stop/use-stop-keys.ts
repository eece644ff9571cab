/**
 * Owns the keys of a stop at the screen: S stops, at any moment. While the room is stopped
 * H is for help, O for everyone out, and B leads back to paused. They act on this page at
 * once, without the network too.
 */
import { useEffect, useRef, useState } from 'react';
import type { StopHere } from '../../../shared/link/use-stop.ts';

/** @returns whether it was stopped here, with a key */
export function useStopKeys(stop: StopHere): boolean {
  const latest = useRef(stop);
  latest.current = stop;
  const [byKey, setByKey] = useState(false);
  const stopped = stop.now !== null;
  useEffect(() => {
    if (!stopped) setByKey(false);
  }, [stopped]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
      const { now, press, answer, back } = latest.current;
      const key = event.key.toLowerCase();
      if (now === null) {
        if (key !== 's') return;
        setByKey(true);
        press();
      } else if (key === 'h') answer('help');
      else if (key === 'o') answer('out');
      else if (key === 'b') back();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
  return byKey && stopped;
}
