/** Owns the plan that a phone has laid out: fetched for the doors, null where none is or it cannot be had. */
import { useEffect, useState } from 'react';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';

export function usePlan(id: string | null): Plan | null {
  const [plan, keep] = useState<Plan | null>(null);
  useEffect(() => {
    if (id === null) return;
    const stop = new AbortController();
    fetch(`/api/plans/${encodeURIComponent(id)}`, { signal: stop.signal })
      .then(async (answer) => keep(answer.ok ? planSchema.parse(await answer.json()) : null))
      .catch(() => keep(null));
    return () => stop.abort();
  }, [id]);
  return plan?.id === id ? plan : null;
}
