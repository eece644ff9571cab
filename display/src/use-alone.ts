/** Owns whether the screen should say that it has no connection: after a few seconds, not at every hiccup. */
import { useEffect, useState } from 'react';
import type { LinkState } from '../../shared/link/types.ts';

/** Shorter gaps mend themselves and are nobody's business. */
const SAY_AFTER_MS = 5_000;

export function useAlone(link: LinkState): boolean {
  const live = link.state === 'live';
  const [alone, say] = useState(false);
  useEffect(() => {
    if (live) {
      say(false);
      return;
    }
    const timer = setTimeout(() => say(true), SAY_AFTER_MS);
    return () => clearTimeout(timer);
  }, [live]);
  return alone && !live;
}
