/**
 * Owns keeping the plan while it is written: a moment after the last change, one request at
 * a time; what somebody else changed meanwhile comes in; where both changed the same, it
 * waits for a choice. Leaves alone how versions are brought together (server, merge.ts).
 */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { z } from 'zod';
import { newId } from '../../../shared/link/new-id.ts';
import { type Chosen, mergePlans, settled } from '../../../shared/plan/merge.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { problemSchema } from '../../../shared/wire/http.ts';
import { type ConflictBody, conflictSchema, editorsSchema, type KeptBody, keptSchema } from '../../../shared/wire/plans.ts';
import { type Edit, keepable } from './draft.ts';

export type Saving =
  | { readonly is: 'saved' | 'saving' | 'waiting' }
  | { readonly is: 'not saved'; readonly why: string; readonly pair: boolean }
  | { readonly is: 'asked'; readonly theirs: ConflictBody; /** What both began with. */ readonly from: Plan };

const AFTER_MS = 800;
const LOOK_MS = 4_000;
const PATIENCE_MS = 8_000;
const away = 'The studio did not answer. What you wrote stays here; it is sent again in a moment.';

type Sent<T> = { readonly ok: T } | { readonly status: number; readonly problem: string; readonly body: unknown };
export async function send<T>(method: string, path: string, schema: z.ZodType<T>, body?: unknown): Promise<Sent<T>> {
  try {
    const answer = await fetch(path, {
      method, credentials: 'same-origin', signal: AbortSignal.timeout(PATIENCE_MS),
      ...(body === undefined ? {} : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
    });
    const json: unknown = await answer.json();
    const read = answer.ok ? schema.safeParse(json) : null;
    if (read?.success) return { ok: read.data };
    const problem = problemSchema.pick({ error: true }).loose().safeParse(json);
    return { status: answer.status, problem: problem.success ? problem.data.error : 'The studio answered in a way that this page does not know. Reload the page.', body: json };
  } catch {
    return { status: 0, problem: away, body: null };
  }
}

/** One page is one editor, loaded again or not. */
function whoAmI(): string {
  const key = 'hallclock-editor';
  try {
    const known = sessionStorage.getItem(key) ?? newId();
    sessionStorage.setItem(key, known);
    return known;
  } catch {
    return newId();
  }
}

const same = (a: Plan, b: Plan): boolean => JSON.stringify(a) === JSON.stringify(b);

export interface Keeper {
  readonly state: Saving;
  readonly others: number;
  /** What came from somebody else just now, in words. */
  readonly came: readonly string[];
  /** Takes one or the other wherever both changed the same. */
  readonly settle: (chosen: Chosen) => void;
  /** Tries again at once. */
  readonly again: () => void;
}

export function useSaving(first: KeptBody, plan: Plan, edit: Edit): Keeper {
  const base = useRef({ plan: first.plan, revision: first.revision });
  const newest = useRef(plan);
  newest.current = plan;
  const [state, setState] = useState<Saving>({ is: 'saved' });
  const [others, setOthers] = useState(0);
  const [came, setCame] = useState<readonly string[]>([]);
  const busy = useRef(false);
  const [turn, setTurn] = useState(0);
  const me = useMemo(whoAmI, []);
  const at = `/api/plans/${first.plan.id}`;

  /** What the server has now becomes what this page began with; what was typed meanwhile stays. */
  const takeIn = useCallback((sent: Plan, kept: KeptBody) => {
    base.current = { plan: kept.plan, revision: kept.revision };
    if (kept.taken.length > 0) setCame(kept.taken);
    if (!same(sent, kept.plan)) edit((now) => (same(now, sent) ? kept.plan : mergePlans(sent, now, kept.plan).plan));
  }, [edit]);

  const save = useCallback(async () => {
    if (busy.current) return;
    const ready = keepable(newest.current);
    if ('why' in ready) return setState({ is: 'not saved', why: `Not yet: ${ready.why}.`, pair: false });
    if (same(ready.plan, base.current.plan)) return setState({ is: 'saved' });
    busy.current = true;
    setState({ is: 'saving' });
    const got = await send('PUT', at, keptSchema, { base: base.current.revision, plan: ready.plan });
    busy.current = false;
    if ('ok' in got) {
      takeIn(ready.plan, got.ok);
      setState({ is: 'saved' });
      setTurn((t) => t + 1);
      return;
    }
    const conflict = conflictSchema.safeParse(got.body);
    if (got.status !== 409 || !conflict.success) return setState({ is: 'not saved', why: got.problem, pair: got.status === 403 });
    const from = base.current.plan;
    const merged = mergePlans(from, newest.current, conflict.data.theirs);
    if (merged.conflicts.length > 0) return setState({ is: 'asked', theirs: conflict.data, from });
    // The server no longer has what this page began with; the page has, and finds nothing to ask.
    base.current = { plan: conflict.data.theirs, revision: conflict.data.revision };
    setCame(merged.taken);
    edit(() => merged.plan);
    setState({ is: 'waiting' });
    setTurn((t) => t + 1);
  }, [at, takeIn, edit]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: a turn looks once more for what was typed while it was sent
  useEffect(() => {
    if (state.is === 'asked') return;
    const ready = keepable(plan);
    if ('plan' in ready && same(ready.plan, base.current.plan)) {
      if (state.is !== 'saved' && !busy.current) setState({ is: 'saved' });
      return;
    }
    if (state.is === 'saved') setState({ is: 'waiting' });
    const timer = setTimeout(() => void save(), AFTER_MS);
    return () => clearTimeout(timer);
  }, [plan, turn, save]);

  useEffect(() => {
    const look = async () => {
      const got = await send('POST', `${at}/editing`, editorsSchema, { editor: me });
      if (!('ok' in got)) {
        setOthers(0);
        if (got.status === 403) setState((s) => (s.is === 'saved' || s.is === 'waiting' ? { is: 'not saved', why: got.problem, pair: true } : s));
        return;
      }
      setOthers(got.ok.others);
      setState((s) => {
        if (s.is === 'not saved') setTurn((t) => t + 1);
        return s;
      });
      if (got.ok.revision === null || got.ok.revision === base.current.revision || busy.current) return;
      const fresh = await send('GET', `${at}/kept`, keptSchema);
      if (!('ok' in fresh) || busy.current) return;
      const before = base.current.plan;
      const merged = mergePlans(before, newest.current, fresh.ok.plan);
      // Where both changed the same, saving asks; until then this page is left as it is.
      if (merged.conflicts.length > 0) return;
      base.current = { plan: fresh.ok.plan, revision: fresh.ok.revision };
      setCame(merged.taken);
      edit(() => merged.plan);
    };
    void look();
    const timer = setInterval(() => void look(), LOOK_MS);
    return () => clearInterval(timer);
  }, [at, me, edit]);

  const latest = useRef({ save, asked: false });
  latest.current = { save, asked: state.is === 'asked' };
  // Another page of the same document comes in its place, as at home: what waits is kept now.
  useEffect(() => () => { if (!latest.current.asked) void latest.current.save(); }, []);

  const unsaved = state.is !== 'saved';
  useEffect(() => {
    if (!unsaved) return;
    const stay = (event: BeforeUnloadEvent) => event.preventDefault();
    window.addEventListener('beforeunload', stay);
    return () => window.removeEventListener('beforeunload', stay);
  }, [unsaved]);

  const settle = (chosen: Chosen) => {
    if (state.is !== 'asked') return;
    const { from, theirs: { theirs, revision } } = state;
    const merged = mergePlans(from, newest.current, theirs, chosen);
    if (!settled(merged.conflicts, chosen)) return;
    base.current = { plan: theirs, revision };
    setCame(merged.taken);
    edit(() => merged.plan);
    setState({ is: same(merged.plan, theirs) ? 'saved' : 'waiting' });
    setTurn((t) => t + 1);
  };
  return { state, others, came, settle, again: () => void save() };
}
