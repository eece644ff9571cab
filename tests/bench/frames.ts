/**
 * Owns what a page's main thread did, out of a trace of Chromium: milliseconds of script, style and layout
 * from each frame to the next, nothing counted twice, and of every task. In the thread's own time, which
 * the waiting for other programs does not lengthen.
 */
import type { Browser, Page } from '@playwright/test';

interface TraceEvent { readonly name: string; readonly ph: string; readonly ts: number; readonly dur?: number; readonly tdur?: number; readonly pid: number; readonly tid: number }

/** Event names of Chromium's devtools.timeline; what lies within another is counted with it. */
const WORK = new Set(['FunctionCall', 'EvaluateScript', 'RunMicrotasks', 'FireAnimationFrame', 'TimerFire', 'EventDispatch', 'V8.GCScavenger', 'MinorGC', 'MajorGC', 'UpdateLayoutTree', 'Layout', 'PrePaint', 'HitTest']);
const TASK = /RunTask$/;

export interface Worked {
  /** In order; `mark` is the last that the page set before it. */
  readonly frames: readonly { readonly ms: number; readonly mark: string }[];
  readonly tasks: readonly { readonly ms: number; readonly mark: string; readonly atMs: number }[];
}

/** @param during what happens meanwhile; marks are performance.mark */
export async function traced(browser: Browser, page: Page, during: () => Promise<unknown>): Promise<Worked> {
  await browser.startTracing(page, { categories: ['devtools.timeline', 'toplevel', 'blink.user_timing'] });
  await during();
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] };
  const counts = new Map<string, number>();
  for (const e of traceEvents) if (e.name === 'FireAnimationFrame') counts.set(`${e.pid} ${e.tid}`, (counts.get(`${e.pid} ${e.tid}`) ?? 0) + 1);
  const busiest = [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
  if (busiest === undefined) throw new Error('no frames were drawn');
  const here = traceEvents.filter((e) => `${e.pid} ${e.tid}` === busiest).sort((a, b) => a.ts - b.ts);
  const { pid } = here[0] as TraceEvent;

  const marks = here.filter((e) => (e.ph === 'I' || e.ph === 'R' || e.ph === 'i') && e.name.startsWith('is '));
  const markAt = (ts: number): string => marks.reduce((last, m) => (m.ts <= ts ? m.name.slice(3) : last), '');
  const edges = traceEvents.filter((e) => e.pid === pid && e.name === 'AnimationFrame' && e.ph === 'b').map((e) => e.ts).sort((a, b) => a - b);
  if (edges.length < 2) throw new Error('this Chromium does not say where frames begin');

  const whole = here.filter((e) => e.ph === 'X');
  const own = (e: TraceEvent) => (e.tdur ?? e.dur ?? 0) / 1_000;
  const sums = edges.slice(1).map(() => 0);
  let until = 0;
  let k = 0;
  for (const e of whole) {
    if (!WORK.has(e.name) || e.ts < until) continue;
    until = e.ts + (e.dur ?? 0);
    while (k + 1 < edges.length && (edges[k + 1] as number) <= e.ts) k += 1;
    if (k < sums.length && e.ts >= (edges[0] as number)) sums[k] = (sums[k] as number) + own(e);
  }
  const from = here[0]?.ts ?? 0;
  return {
    frames: sums.map((ms, i) => ({ ms, mark: markAt(edges[i] as number) })),
    tasks: whole.filter((e) => TASK.test(e.name)).map((e) => ({ ms: own(e), mark: markAt(e.ts), atMs: (e.ts - from) / 1_000 })),
  };
}
