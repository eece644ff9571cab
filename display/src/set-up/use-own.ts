/** Owns what is set about this screen while the page is open: read once, written at every change. */
import { useCallback, useState } from 'react';
import { loadOwn, type Own, saveOwn, withAsked } from './own.ts';

export interface UseOwn {
  readonly own: Own;
  readonly change: (to: Partial<Own>) => void;
}

export function useOwn(search: string): UseOwn {
  const [own, keep] = useState(() => withAsked(loadOwn(), search));
  const change = useCallback((to: Partial<Own>) => keep((before) => {
    const next = { ...before, ...to };
    saveOwn(next);
    return next;
  }), []);
  return { own, change };
}
