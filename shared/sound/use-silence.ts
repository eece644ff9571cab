/**
 * Owns that a stopped room is silent: whatever sounds from signals or the voice is cut off
 * at once, not only what was still to come. Music has its own cut, where it is played.
 */
import { useLayoutEffect } from 'react';
import { mute } from './mute.ts';
import { hush } from './voice.ts';

/** Before the browser paints: silence comes no later than the words. */
export function useSilence(stopped: boolean): void {
  useLayoutEffect(() => {
    if (!stopped) return;
    hush();
    mute(true);
    return () => { mute(false); };
  }, [stopped]);
}
