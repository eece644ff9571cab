/**
 * Owns the plan while it is written: what it is now, what it was before (undo, redo), and
 * the changes that the page makes. Typing into one field is one step. Leaves alone saving.
 */
import { useCallback, useMemo, useReducer } from 'react';
import { type Item, type Plan, planSchema, type Section } from '../../../shared/plan/plan.ts';
import { issueWords, placeWords } from '../../../shared/plan/read-file.ts';

/** Steps back; an evening's typing. */
const STEPS_MAX = 300;

interface State { readonly past: readonly Plan[]; readonly now: Plan; readonly future: readonly Plan[]; readonly field: string | null }
type Act =
  | { readonly do: 'edit'; readonly change: (plan: Plan) => Plan; readonly field: string | null }
  | { readonly do: 'undo' } | { readonly do: 'redo' };

export function step(s: State, act: Act): State {
  switch (act.do) {
    case 'edit': {
      const now = act.change(s.now);
      if (JSON.stringify(now) === JSON.stringify(s.now)) return s;
      const goesOn = act.field !== null && act.field === s.field;
      return { past: goesOn ? s.past : [...s.past, s.now].slice(-STEPS_MAX), now, future: [], field: act.field };
    }
    case 'undo': {
      const before = s.past.at(-1);
      return before ? { past: s.past.slice(0, -1), now: before, future: [s.now, ...s.future], field: null } : s;
    }
    case 'redo': {
      const [next, ...future] = s.future;
      return next ? { past: [...s.past, s.now], now: next, future, field: null } : s;
    }
  }
}

export type Edit = (change: (plan: Plan) => Plan, field?: string) => void;
export interface Draft {
  readonly plan: Plan;
  readonly edit: Edit;
  readonly undo: (() => void) | null;
  readonly redo: (() => void) | null;
}

export function useDraft(first: Plan): Draft {
  const [s, act] = useReducer(step, { past: [], now: first, future: [], field: null });
  const edit = useCallback<Edit>((change, field) => act({ do: 'edit', change, field: field ?? null }), []);
  const undo = useCallback(() => act({ do: 'undo' }), []);
  const redo = useCallback(() => act({ do: 'redo' }), []);
  return { plan: s.now, edit, undo: s.past.length > 0 ? undo : null, redo: s.future.length > 0 ? redo : null };
}

/** A plan as it can be kept, or why not yet: a section that waits for its first movement. */
export function keepable(plan: Plan): { readonly plan: Plan } | { readonly why: string } {
  const parsed = planSchema.safeParse(plan);
  if (parsed.success) return { plan: parsed.data };
  const issue = parsed.error.issues[0];
  return { why: issue ? `${placeWords(issue.path)}: ${issueWords(issue)}` : 'not understood' };
}
/** What of a plan can run already, for the floor and the totals while a section is still empty. */
export function runnable(plan: Plan): Plan | null {
  const parsed = planSchema.safeParse({ ...plan, sections: plan.sections.filter((s) => s.talk !== undefined || s.items.length > 0) });
  return parsed.success ? parsed.data : null;
}
export const useRunnable = (plan: Plan): Plan | null => useMemo(() => runnable(plan), [plan]);

/** Fields that are undefined are taken out, so that a default stays unsaid. */
const tidy = <T extends object>(o: T): T => Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined)) as T;
type Loose<T> = { readonly [K in keyof T]?: T[K] | undefined };

export const inPlan = (fields: Loose<Plan>) => (p: Plan): Plan => tidy({ ...p, ...fields }) as Plan;
export const inSection = (id: string, change: (s: Section) => Section) => (p: Plan): Plan => ({ ...p, sections: p.sections.map((s) => (s.id === id ? change(s) : s)) });
export const setSection = (id: string, fields: Loose<Section>) => inSection(id, (s) => tidy({ ...s, ...fields }) as Section);
export const setItem = (id: string, index: number, fields: Loose<Item>) =>
  inSection(id, (s) => ({ ...s, items: s.items.map((item, k) => (k === index ? tidy({ ...item, ...fields }) as Item : item)) }));

export const moved = <T>(list: readonly T[], from: number, to: number): T[] => {
  const rest = list.filter((_, k) => k !== from);
  const one = list[from];
  return one === undefined ? [...list] : [...rest.slice(0, to), one, ...rest.slice(to)];
};

/** A move to another place of its section or of another; it goes before what is there, or behind the last. What it says of itself goes with it. */
export const moveItem = (from: { readonly section: string; readonly at: number | null }, to: typeof from) => (p: Plan): Plan => {
  const item = p.sections.find((s) => s.id === from.section)?.items[from.at ?? -1];
  if (!item || from.at === null) return p;
  const { at } = from;
  if (from.section === to.section) return inSection(to.section, (s) => ({ ...s, items: moved(s.items, at, to.at ?? s.items.length - 1) }))(p);
  const taken = inSection(from.section, (s) => ({ ...s, items: s.items.filter((_, k) => k !== at) }))(p);
  return inSection(to.section, (s) => ({ ...s, items: [...s.items.slice(0, to.at ?? s.items.length), item, ...s.items.slice(to.at ?? s.items.length)] }))(taken);
};

function freeId(p: Plan, base: string): string {
  const taken = new Set(p.sections.map((s) => s.id));
  for (let n = 1; ; n += 1) {
    const id = n === 1 ? base : `${base}-${n}`;
    if (!taken.has(id)) return id;
  }
}
export const copySection = (id: string) => (p: Plan): Plan => {
  const at = p.sections.findIndex((s) => s.id === id);
  const from = p.sections[at];
  if (!from) return p;
  const copy = { ...from, id: freeId(p, from.id.replace(/-\d+$/, '')) };
  return { ...p, sections: [...p.sections.slice(0, at + 1), copy, ...p.sections.slice(at + 1)] };
};

const kindOrder = ['welcome', 'warm-up', 'main', 'cool-down', 'clear-up'] as const;
const firsts: Record<Section['kind'], Loose<Section>> = {
  welcome: { talk: 60 }, 'warm-up': { way: 'follow-me', work: 300 }, main: { rounds: 3, work: 40, rest: 20 }, 'cool-down': { work: 30 }, 'clear-up': { talk: 60 },
};
/** A new section of a kind, with the trade's usual numbers, after the last that belongs before it. */
export const addSection = (kind: Section['kind']) => (p: Plan): Plan => {
  const section = tidy({ id: freeId(p, kind), kind, way: 'together', rounds: 1, showEstimate: 20, lastRest: true, items: [], ...firsts[kind] }) as Section;
  const at = p.sections.findLastIndex((s) => kindOrder.indexOf(s.kind) <= kindOrder.indexOf(kind)) + 1;
  return { ...p, sections: [...p.sections.slice(0, at), section, ...p.sections.slice(at)] };
};

/** "Tuesday strength!" → "tuesday-strength", with a number where that is taken. */
export function idFor(name: string, taken: readonly string[]): string {
  const base = name.normalize('NFD').toLowerCase().replace(/\p{M}/gu, '').replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 50).replace(/-+$/, '') || 'plan';
  for (let n = 1; ; n += 1) {
    const id = n === 1 ? base : `${base}-${n}`;
    if (!taken.includes(id)) return id;
  }
}

/** The least that a new class has: hello, a warm-up, a main part, a cool-down, and time to clear up. */
export const emptyPlan = (id: string, name: string): Plan => planSchema.parse({
  format: 1, id, name, slot: 1_800,
  sections: [
    { id: 'welcome', kind: 'welcome', talk: 60 },
    { id: 'warm-up', kind: 'warm-up', way: 'follow-me', work: 300, items: [{ movement: 'march-in-place' }, { movement: 'arm-circles' }, { movement: 'side-step' }, { movement: 'hip-hinge' }] },
    { id: 'main', kind: 'main', rounds: 3, work: 40, rest: 20, items: [{ movement: 'squat' }] },
    { id: 'cool-down', kind: 'cool-down', work: 30, sides: 'full', items: [{ movement: 'march-in-place', work: 60, sides: 'alternating' }, { movement: 'calf-stretch' }, { movement: 'quad-stretch' }, { movement: 'hamstring-stretch' }, { movement: 'chest-stretch', sides: 'together' }] },
    { id: 'clear-up', kind: 'clear-up', talk: 60 },
  ],
});
