/** Owns whether this device asked for less motion. */
import { useSyncExternalStore } from 'react';

const asked = () => window.matchMedia('(prefers-reduced-motion: reduce)');

export const useStill = (): boolean => useSyncExternalStore(
  (changed) => {
    const query = asked();
    query.addEventListener('change', changed);
    return () => query.removeEventListener('change', changed);
  },
  () => asked().matches,
  // Where there is no device to ask, nothing moves.
  () => true,
);
