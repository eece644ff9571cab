/** Owns the list of plans on the phone, kept new while it is looked at: what was written at the desk is there in a moment. */
import { useCallback, useEffect, useState } from 'react';
import { type PlansBody, plansSchema } from '../../../shared/wire/http.ts';
import { ask, type Got } from '../../common/get.ts';

const LOOK_MS = 4_000;

/** Null until the first answer; after that an answer only replaces another, so that nothing flickers under a thumb. */
export function usePlans(): readonly [Got<PlansBody> | null, () => void] {
  const [got, setGot] = useState<Got<PlansBody> | null>(null);
  const [turn, setTurn] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new turn asks again
  useEffect(() => {
    let here = true;
    const look = async () => {
      if (document.visibilityState === 'hidden') return;
      const answer = await ask('/api/plans', plansSchema);
      if (here) setGot((was) => ('problem' in answer && was && 'ok' in was ? was : answer));
    };
    void look();
    const timer = setInterval(() => void look(), LOOK_MS);
    return () => { here = false; clearInterval(timer); };
  }, [turn]);
  return [got, useCallback(() => { setGot(null); setTurn((t) => t + 1); }, [])];
}
