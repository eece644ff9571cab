/** Owns the plan that a phone has laid out: fetched for the doors, null where none is or it cannot be had. */
import { useEffect, useState } from 'react';
import type { Plan } from '../../shared/plan/plan.ts';
import { ask } from './ask.ts';

export function usePlan(id: string | null): Plan | null {
  const [plan, keep] = useState<Plan | null>(null);
  useEffect(() => {
    if (id === null) return;
    const stop = new AbortController();
    ask(`/api/plans/${encodeURIComponent(id)}`, stop.signal)
      .then(keep)
      .catch(() => keep(null));
    return () => stop.abort();
  }, [id]);
  return plan?.id === id ? plan : null;
}
