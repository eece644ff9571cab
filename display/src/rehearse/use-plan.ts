/** Owns reading the one plan that is rehearsed. */
import { useEffect, useState } from 'react';
import type { Plan } from '../../../shared/plan/plan.ts';
import type { RehearsalWords } from '../../../shared/words/catalogue.ts';
import type { ProblemBody } from '../../../shared/wire/http.ts';

export type GotPlan = { readonly waits: true } | { readonly ok: Plan } | { readonly problem: string | ((say: RehearsalWords) => string) };

export function usePlan(id: string): GotPlan {
  const [got, setGot] = useState<GotPlan>({ waits: true });
  useEffect(() => {
    const stop = new AbortController();
    fetchPlan(id, stop.signal).then(setGot).catch(() => {
      if (!stop.signal.aborted) setGot({ problem: (say) => say.unreadable });
    });
    return () => stop.abort();
  }, [id]);
  return got;
}

async function fetchPlan(id: string, signal: AbortSignal): Promise<GotPlan> {
  const response = await fetch(`/api/plans/${encodeURIComponent(id)}`, { signal });
  // As in ../ask.ts: not read through its schema a second time.
  if (response.ok) return { ok: (await response.json()) as Plan };
  const { error } = (await response.json().catch(() => ({}))) as Partial<ProblemBody>;
  return { problem: typeof error === 'string' ? error : (say) => say.noAnswer(response.status) };
}
