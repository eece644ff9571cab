/**
 * Owns taking whole seconds from shows, set-ups and rests: from the cheapest first,
 * the later interval first. With the one bound over the cool-down the limits are
 * nested, so this is exact.
 */
import type { Interval } from '../plan/interval.ts';
import { firstCuttable, inCoolDown, leastMs } from './menu.ts';
import type { Session } from './session.ts';

/** Loss of one second, in hundredths. */
const weights = { show: 100, 'set-up': 200, rest: 300 } as const;
type Squeezed = keyof typeof weights;
const order: readonly Squeezed[] = ['show', 'set-up', 'rest'];

/** Whole seconds that each kind gives, outside the cool-down and in it. */
export interface Caps {
  readonly outside: Readonly<Record<Squeezed, number>>;
  readonly inside: Readonly<Record<Squeezed, number>>;
  /** Whole seconds that the cool-down gives in all. */
  readonly coolDownS: number;
}

const isSqueezed = (i: Interval): i is Interval & { kind: Squeezed } => i.kind === 'show' || i.kind === 'set-up' || i.kind === 'rest';

export function capS(s: Session, list: readonly Interval[], k: number, shown: ReadonlySet<string>): number {
  return Math.floor(((list[k] as Interval).lengthMs - leastMs(s, list, k, shown)) / 1_000);
}

export function capsOf(s: Session, list: readonly Interval[], index: number, shown: ReadonlySet<string>, coolDownS: number): Caps {
  const outside = { show: 0, 'set-up': 0, rest: 0 };
  const inside = { show: 0, 'set-up': 0, rest: 0 };
  for (let k = firstCuttable(s, list, index); k < list.length; k += 1) {
    const i = list[k] as Interval;
    if (isSqueezed(i)) (inCoolDown(s, i) ? inside : outside)[i.kind] += capS(s, list, k, shown);
  }
  return { outside, inside, coolDownS };
}

export interface Filled {
  readonly loss: number;
  /** Seconds that could not be found. */
  readonly shortS: number;
  readonly taken: Pick<Caps, 'outside' | 'inside'>;
}

/** Finds so many seconds at the least loss. Of equal price, the later: the cool-down stands at the end. */
export function fill(caps: Caps, seconds: number): Filled {
  const outside = { show: 0, 'set-up': 0, rest: 0 };
  const inside = { show: 0, 'set-up': 0, rest: 0 };
  let [left, coolDown, loss] = [seconds, caps.coolDownS, 0];
  for (const kind of order) {
    const a = Math.min(left, caps.inside[kind], coolDown);
    const b = Math.min(left - a, caps.outside[kind]);
    inside[kind] = a;
    outside[kind] = b;
    coolDown -= a;
    left -= a + b;
    loss += (a + b) * weights[kind];
  }
  return { loss, shortS: left, taken: { outside, inside } };
}

/** The list with those seconds taken, from its later intervals first. A show that is cut ends by the clock. */
export function squeezed(s: Session, list: readonly Interval[], index: number, shown: ReadonlySet<string>, taken: Filled['taken']): Interval[] {
  const left = { outside: { ...taken.outside }, inside: { ...taken.inside } };
  const out = [...list];
  for (let k = list.length - 1; k >= firstCuttable(s, list, index); k -= 1) {
    const i = list[k] as Interval;
    if (!isSqueezed(i)) continue;
    const from = inCoolDown(s, i) ? left.inside : left.outside;
    const give = Math.min(from[i.kind], capS(s, list, k, shown));
    if (give <= 0) continue;
    from[i.kind] -= give;
    out[k] = { ...i, ends: 'clock', lengthMs: i.lengthMs - give * 1_000 };
  }
  return out;
}
