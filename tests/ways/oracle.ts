/**
 * Owns the same menu of cuts once more, written down plainly from its rules and
 * sharing no code with the search: it compiles nothing away, totals every cell by
 * adding up lengths, and hands the whole to brute force or to a general solver.
 */
import { onFloor, type Position } from '../../shared/movement/movement.ts';
import type { Interval } from '../../shared/plan/interval.ts';
import { setUpNeedMs } from '../../shared/plan/positions.ts';
import type { Session } from '../../shared/session/session.ts';

export interface Cell {
  readonly kind: 'tighter' | 'shorter' | 'movement' | 'round';
  readonly removed: readonly string[];
  readonly steps: number;
  /** In hundredths. */
  readonly loss: number;
  readonly savedMs: number;
  /** Whole seconds that each interval may give. */
  readonly caps: ReadonlyMap<string, number>;
  readonly coolDownS: number;
}
export interface Problem {
  readonly cells: readonly Cell[];
  /** Loss of one second, in hundredths. */
  readonly weight: ReadonlyMap<string, number>;
  readonly coolDown: ReadonlySet<string>;
}

export function problemOf(s: Session, index: number): Problem {
  const facts = (id: string | undefined) => s.facts[id ?? ''] ?? { start: 'standing' as Position, end: 'standing' as Position, leastS: undefined };
  const kindOf = (i: Interval) => s.plan.sections[i.section]?.kind;
  const { group } = s.plan;
  const floor = (to: Position) => (onFloor(to) ? setUpNeedMs('standing', to, group) : 0);
  const movesOf = (i: Interval) => i.stations?.movements ?? [i.movement ?? i.prompts?.[0] ?? ''];
  const ready = (i: Interval) => Math.max(s.settings.countInMs, ...movesOf(i).map((m) => floor(facts(m).start)));

  const owed = (list: readonly Interval[], k: number, gone = 0): number => {
    let given = -gone;
    for (const i of list.slice(k)) {
      if (i.kind === 'work') return Math.max(0, ready(i) - given);
      if (i.ends === 'go') return 0;
      given += i.lengthMs;
    }
    return 0;
  };
  /** All that is ahead, with the count-ins that goes will owe, and that carrying on will. */
  const total = (list: readonly Interval[]): number => list.reduce((sum, i, k) => {
    if (k < index) return sum;
    const countIn = i.ends === 'go' ? (i.kind === 'set-up' ? Math.min(owed(list, k + 1), s.settings.countInMs) : owed(list, k + 1)) : 0;
    return sum + i.lengthMs + countIn;
  }, s.pause ? owed(list, index, s.anchor.elapsedMs) : 0);

  const need = (list: readonly Interval[], k: number): { ms: number; from: string } => {
    const before = list.slice(0, k);
    const last = before.findLastIndex((i) => i.kind === 'work' || i.kind === 'talk');
    const from = before[last];
    const since = before.slice(Math.max(0, last));
    const watched = since.some((i) => i.ends === 'go' || i.kind === 'show');
    const at: Position = !from || from.kind === 'talk' || from.stations ? 'standing' : facts(from.movement ?? from.prompts?.at(-1)).end;
    const i = list[k] as Interval;
    const to = movesOf(i);
    const ms = to.map((m, n) => Math.max(
      setUpNeedMs(at, facts(m).start, group),
      watched ? floor(facts(m).start) : 0,
      i.stations && i.stations.turn > 0 ? setUpNeedMs(facts(m).end, facts(to[(n + 1) % to.length]).start, group) : 0,
    ));
    return { ms: Math.max(s.settings.countInMs, ...ms), from: before.findLast((b) => b.kind === 'work' || b.kind === 'talk' || b.kind === 'show')?.id ?? '' };
  };

  const structural: { kind: 'none' | 'round' | 'movement'; n: number; removed: Interval[] }[] = [{ kind: 'none', n: 0, removed: [] }];
  const ahead = (i: Interval) => s.intervals.indexOf(i) > index;
  const sections = s.plan.sections.map((section, k) => ({ section, k, its: s.intervals.filter((i) => i.section === k) }))
    .filter(({ section }) => section.kind === 'main' && section.talk === undefined);
  for (const { its } of sections) {
    const rounds = [...new Set(its.filter((i) => i.round > 0 && i.kind !== 'rest').map((i) => i.round))].sort((a, b) => b - a);
    for (let n = 1; n < rounds.length; n += 1) {
      const out = its.filter((i) => rounds.slice(0, n).includes(i.round));
      if (out.some((i) => i.kind !== 'rest' && !ahead(i))) break;
      structural.push({ kind: 'round', n, removed: out.filter(ahead) });
    }
  }
  for (const { its } of sections) {
    const left = [...new Set(its.filter((i) => ahead(i) && i.kind === 'work' && i.item >= 0).map((i) => i.item))];
    for (const item of left.length > 1 ? left : []) {
      const own = its.filter((i) => i.item === item && !i.stations && !i.prompts);
      const begun = own.filter((i) => i.kind !== 'rest' && !ahead(i)).map((i) => i.round);
      structural.push({ kind: 'movement', n: 1, removed: own.filter((i) => ahead(i) && !begun.includes(i.round)) });
    }
  }

  const shown = new Set(s.intervals.slice(0, index + 1).filter((i) => i.kind === 'show').map((i) => i.movement));
  const weight = new Map<string, number>();
  const coolDown = new Set<string>();
  for (const i of s.intervals) {
    if (kindOf(i) === 'cool-down') coolDown.add(i.id);
    weight.set(i.id, i.kind === 'show' ? 100 : i.kind === 'set-up' ? 200 : 300);
  }

  const cells = structural.flatMap(({ kind, n, removed }): Cell[] => {
    const uneven = new Map<string, number>();
    for (const i of removed) if (i.pair && i.side && i.kind === 'work') uneven.set(i.pair, (uneven.get(i.pair) ?? 0) + (i.side === 'left' ? 1 : -1) * i.lengthMs);
    if (kind !== 'none' && (!removed.some((i) => i.kind === 'work') || [...uneven.values()].some((ms) => ms !== 0))) return [];
    const kept = s.intervals.filter((i) => !removed.includes(i));
    const list = kept.map((i, k) => {
      if (kind === 'none' || i.kind !== 'set-up' || i.ends === 'go') return i;
      const [now, was] = [need(kept, k), need(s.intervals, s.intervals.indexOf(i))];
      return now.from !== was.from && now.ms > was.ms && now.ms > i.lengthMs ? { ...i, lengthMs: now.ms } : i;
    });
    const caps = new Map<string, number>();
    const firstFree = s.pause ? list.findIndex((i, k) => k >= index && (i.kind === 'work' || i.ends === 'go')) : index;
    list.forEach((i, k) => {
      if (k <= Math.max(index, firstFree) || firstFree < 0) return;
      const before = list[k - 1];
      const work = list.slice(k).find((w) => w.kind === 'work');
      const least = i.kind === 'set-up' && i.ends === 'clock' ? need(list, k).ms
        : i.kind === 'rest' ? Math.max(10_000, before?.ends === 'go' && work ? ready(work) : 0)
          : i.kind === 'show' && i.ends === 'clock' && shown.has(i.movement) ? Math.max(5_000, before?.ends === 'go' && work ? ready(work) : 0)
          : i.kind === 'show' && shown.has(i.movement) && owed(list, k + 1) === 0 ? 5_000 : i.lengthMs;
      const cap = Math.floor((i.lengthMs - least) / 1_000);
      if (cap > 0) caps.set(i.id, cap);
    });
    const coolDownMs = list.filter((i) => kindOf(i) === 'cool-down').reduce((sum, i) => sum + i.lengthMs, 0);
    const works = list.filter((i, k) => k > index && i.kind === 'work' && kindOf(i) === 'main');
    const groups = [...new Set(works.map((i) => i.pair ?? i.id))].map((key) => works.filter((i) => (i.pair ?? i.id) === key))
      .filter((g) => !g[0]?.side || g.filter((i) => i.side === 'left').length === g.filter((i) => i.side === 'right').length);
    const least = (i: Interval) => i.prompts
      ? i.prompts.reduce((sum, m) => sum + (facts(m).leastS ?? 10) * 1_000, 0) : Math.max(...movesOf(i).map((m) => (facts(m).leastS ?? 10) * 1_000));
    const can = groups.map((g) => ({ count: g.length, steps: Math.min(...g.map((i) => Math.max(0, Math.floor((i.lengthMs - least(i)) / 5_000)))) }));
    const structuralMs = total(s.intervals) - total(list);
    const lost = removed.filter((i) => i.kind === 'work').reduce((sum, i) => sum + i.lengthMs, 0);
    return Array.from({ length: 1 + Math.max(0, ...can.map((c) => c.steps)) }, (_, steps): Cell => {
      const shareMs = can.reduce((sum, c) => sum + Math.min(steps, c.steps) * c.count * 5_000, 0);
      const loss = lost + shareMs + (steps > 0 ? 2_000 : 0) + (kind === 'round' ? 3_000 * n : kind === 'movement' ? 6_000 : 0);
      return {
        kind: kind === 'none' ? (steps > 0 ? 'shorter' : 'tighter') : kind, removed: removed.map((i) => i.id), steps, loss,
        savedMs: structuralMs + shareMs, caps, coolDownS: Math.floor(Math.max(0, coolDownMs - 180_000) / 1_000),
      };
    });
  });
  return { cells, weight, coolDown };
}

/** The problem as an integer programme in the LP format of CPLEX, which general solvers read. Null where nothing can be cut. */
export function programme({ cells, weight, coolDown }: Problem, needMs: number): string {
  const ids = [...new Set(cells.flatMap((c) => [...c.caps.keys()]))];
  const x = new Map(ids.map((id, k) => [id, `x${k}`]));
  const plus = (terms: readonly string[]) => (terms.length === 0 ? '0 y0' : terms.join(' + ').replaceAll('+ -', '- '));
  const lines = [
    'Minimize', ` loss: ${plus([...ids.map((id) => `${weight.get(id)} ${x.get(id)}`), ...cells.map((c, k) => `${c.loss} y${k}`)])}`,
    'Subject To', ` one: ${plus(cells.map((_, k) => `1 y${k}`))} = 1`,
    ` reach: ${plus([...ids.map((id) => `1000 ${x.get(id)}`), ...cells.map((c, k) => `${c.savedMs} y${k}`)])} >= ${needMs}`,
    ...ids.map((id) => ` c${x.get(id)}: 1 ${x.get(id)} ${cells.map((c, k) => ({ cap: c.caps.get(id) ?? 0, k })).filter((c) => c.cap > 0).map((c) => `- ${c.cap} y${c.k}`).join(' ')} <= 0`),
    ` cool: ${plus([...ids.filter((id) => coolDown.has(id)).map((id) => `1 ${x.get(id)}`)])} ${cells.map((c, k) => (c.coolDownS > 0 ? `- ${c.coolDownS} y${k}` : '')).join(' ')} <= ${coolDown.size > 0 && ids.some((id) => coolDown.has(id)) ? 0 : 1}`,
    'Binary', ` ${cells.map((_, k) => `y${k}`).join(' ')}`,
    ...(ids.length > 0 ? ['General', ` ${ids.map((id) => x.get(id)).join(' ')}`] : []), 'End',
  ];
  return lines.join('\n');
}
