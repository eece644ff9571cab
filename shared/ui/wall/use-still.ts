/** Owns whether this device asked for less motion. */
import { useSyncExternalStore } from 'react';

const asked = () => window.matchMedia('(prefers-reduced-motion: reduce)');

function subscribe(changed: () => void): () => void {
  const query = asked();
  query.addEventListener('change', changed);
  return () => query.removeEventListener('change', changed);
}

/** Where there is no device to ask, nothing moves. */
export const useStill = (): boolean => useSyncExternalStore(subscribe, () => asked().matches, () => true);
