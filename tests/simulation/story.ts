/**
 * Owns what happens in one simulated class: the plan, the devices, the network, and
 * a list of steps (presses and faults) that can be cut without touching the rest.
 * Everything comes from one seed.
 */
import fc from 'fast-check';
import type { Plan } from '../../shared/plan/plan.ts';
import { plans } from '../random/plans.ts';
import { type Chance, chanceOf, pick, spread, whole } from './chance.ts';
import type { DeviceModel } from './device.ts';
import type { Fault } from './disk.ts';
import type { BaseFault } from './line.ts';
import type { Direction, WayModel } from './network.ts';

/** The controls of the phone, and what it can say beside them. */
export const pressKinds = [
  'big', 'ready', 'wait', 'again', 'more', 'less', 'changeSides', 'moveOn', 'evenUp', 'note', 'head-count', 'end',
  'stop', 'keepMoving', 'toPaused', 'here', 'hand-over', 'takes', 'lead',
] as const;
export type PressKind = (typeof pressKinds)[number];

export type Step =
  | { readonly at: number; readonly do: 'press'; readonly device: number; readonly what: PressKind; readonly n: number }
  | { readonly at: number; readonly do: 'partition'; readonly devices: readonly number[]; readonly directions: readonly Direction[]; readonly ms: number }
  | { readonly at: number; readonly do: 'cut'; readonly device: number; readonly told: boolean }
  | { readonly at: number; readonly do: 'crash'; readonly downMs: number; readonly boot: boolean; readonly server?: number }
  | { readonly at: number; readonly do: 'wall'; readonly byMs: number }
  | { readonly at: number; readonly do: 'stall'; readonly ms: number }
  | { readonly at: number; readonly do: 'disk'; readonly fault: Fault; readonly unreadable: number }
  | { readonly at: number; readonly do: 'sleep'; readonly device: number; readonly ms: number }
  | { readonly at: number; readonly do: 'device-wall'; readonly device: number; readonly byMs: number }
  | { readonly at: number; readonly do: 'reload'; readonly device: number; readonly ms: number }
  | { readonly at: number; readonly do: 'authority'; readonly byMs: number }
  | { readonly at: number; readonly do: 'base'; readonly how: 'slow' | 'frozen' | 'away'; readonly ms: number }
  | { readonly at: number; readonly do: 'append'; readonly server: number; readonly fault: BaseFault; readonly unreadable: number }
  | { readonly at: number; readonly do: 'deaf'; readonly server: number; readonly ms: number }
  | { readonly at: number; readonly do: 'redis'; readonly server: number; readonly how: 'away' | 'behind'; readonly ms: number }
  | { readonly at: number; readonly do: 'over'; readonly device: number };

export interface Story {
  readonly seed: number;
  readonly plan: Plan;
  readonly devices: readonly (DeviceModel & { readonly up: WayModel; readonly down: WayModel; readonly together: boolean })[];
  readonly steps: readonly Step[];
  readonly lengthMs: number;
  /** How often every screen is looked at when nothing happens. */
  readonly lookMs: number;
  /** Of several servers: whether they have a Redis, and how far each crystal is off; left out where there is one. */
  readonly chain?: { readonly redis: boolean; readonly ppms: readonly number[] };
}

const HOUR_MS = 3_600_000;

const networks = {
  lan: { lost: 0.001, jitterMs: 0.4 },
  'wi-fi': { lost: 0.01, jitterMs: 4 },
  poor: { lost: 0.05, jitterMs: 12 },
} as const;

function wayOf(chance: Chance): { up: WayModel; down: WayModel } {
  const kind = pick<keyof typeof networks>(chance, ['lan', 'wi-fi', 'wi-fi', 'poor']);
  const { lost, jitterMs } = networks[kind];
  const one = (): WayModel => ({
    leastMs: kind === 'lan' ? spread(chance, 0.2, 1) : spread(chance, 1, 12),
    jitterMs: jitterMs * spread(chance, 0.5, 1.5),
    sigma: spread(chance, 0.4, 1),
    lost,
  });
  return { up: one(), down: one() };
}

function deviceOf(chance: Chance, role: 'screen' | 'phone'): Story['devices'][number] {
  return {
    role,
    ppm: spread(chance, -100, 100),
    tickMs: pick(chance, [0.005, 0.1, 1]),
    standsStill: chance() < 0.8,
    monotonicAt0: spread(chance, 0, 1e8),
    wallAheadMs: spread(chance, -60_000, 60_000),
    together: chance() < 0.3,
    ...wayOf(chance),
  };
}

function pressOf(chance: Chance): PressKind {
  const luck = chance();
  if (luck < 0.5) return 'big';
  return luck < 0.97 ? pick(chance, ['ready', 'wait', 'again', 'more', 'less', 'changeSides', 'moveOn', 'evenUp', 'note', 'head-count']) : 'end';
}

function faultOf(chance: Chance, at: number, devices: number): Step {
  const device = whole(chance, 0, devices - 1);
  const some = (): number[] => {
    const out = Array.from({ length: devices }, (_, i) => i).filter(() => chance() < 0.5);
    return out.length > 0 ? out : [device];
  };
  const luck = chance();
  if (luck < 0.2) {
    const directions = pick<readonly Direction[]>(chance, [['up', 'down'], ['up', 'down'], ['up'], ['down']]);
    return { at, do: 'partition', devices: some(), directions, ms: pick(chance, [300, 1_500, 4_000, 15_000, 40_000]) * spread(chance, 0.5, 1.5) };
  }
  if (luck < 0.32) return { at, do: 'cut', device, told: chance() < 0.6 };
  if (luck < 0.5) return { at, do: 'crash', downMs: pick(chance, [100, 400, 2_000, 12_000]) * spread(chance, 0.5, 1.5), boot: chance() < 0.25 };
  if (luck < 0.58) return { at, do: 'wall', byMs: pick(chance, [-3, -1, 1, 2, 26]) * HOUR_MS + whole(chance, -5_000, 5_000) };
  if (luck < 0.66) return { at, do: 'stall', ms: pick(chance, [300, 1_000, 2_500, 5_000]) };
  if (luck < 0.76) return { at, do: 'disk', fault: pick(chance, ['fails', 'unknown-kept', 'unknown-lost']), unreadable: whole(chance, 0, 2) };
  if (luck < 0.88) return { at, do: 'sleep', device, ms: pick(chance, [200, 2_000, 8_000, 20_000]) * spread(chance, 0.5, 1.5) };
  if (luck < 0.95) return { at, do: 'device-wall', device, byMs: pick(chance, [-HOUR_MS, -3_000, 800, 3_000, HOUR_MS]) };
  return { at, do: 'reload', device, ms: spread(chance, 100, 5_000) };
}

/** What happens among people: who is here is said, the class is handed over, half of the time while it is stopped or kept moving. */
function peopleOf(chance: Chance, lengthMs: number, phones: number): Step[] {
  const steps: Step[] = [];
  for (let k = whole(chance, 1, 4); k > 0; k -= 1) {
    const from = spread(chance, 2_500, Math.max(3_000, lengthMs));
    const press = (afterMs: number, what: PressKind) =>
      steps.push({ at: from + afterMs, do: 'press', device: whole(chance, 0, phones - 1), what, n: whole(chance, 0, 1) });
    if (chance() < 0.6) press(-500, 'here');
    const stands = chance() < 0.5;
    if (stands) press(0, pick(chance, ['stop', 'stop', 'keepMoving']));
    press(spread(chance, 0, 1_500), pick(chance, ['hand-over', 'hand-over', 'takes', 'lead']));
    if (stands) press(spread(chance, 3_000, 12_000), 'toPaused');
  }
  return steps;
}

export function storyOf(seed: number): Story {
  const chance = chanceOf(seed, 'story');
  const [plan] = fc.sample(plans, { seed, numRuns: 1 });
  if (!plan) throw new Error('no plan came of the seed');
  const phones = whole(chance, 1, 3);
  const screens = whole(chance, 1, 3);
  const devices = [
    ...Array.from({ length: phones }, () => deviceOf(chance, 'phone')),
    ...Array.from({ length: screens }, () => deviceOf(chance, 'screen')),
  ];
  const calm = chance() < 0.15;
  const long = chance() < 0.08;
  const steps: Step[] = [];
  let at = 1_500;
  for (let k = whole(chance, 12, 40); k > 0; k -= 1) {
    at += whole(chance, 0, 9_000);
    if (long && chance() < 0.1) at += spread(chance, 60_000, 1_200_000);
    const device = whole(chance, 0, phones - 1);
    steps.push({ at, do: 'press', device, what: pressOf(chance), n: whole(chance, 1, 20) });
    if (chance() < 0.25) {
      const what = chance() < 0.5 ? (steps.at(-1) as Extract<Step, { do: 'press' }>).what : pressOf(chance);
      steps.push({ at: at + spread(chance, 0, 60), do: 'press', device: whole(chance, 0, phones - 1), what, n: whole(chance, 1, 20) });
    }
    const faults = calm ? 0 : whole(chance, 0, 3) - 1;
    for (let f = 0; f < faults; f += 1) {
      // Half of the faults come close to a press, where they can do most harm.
      steps.push(faultOf(chance, Math.max(0, at + (chance() < 0.5 ? spread(chance, -20, 60) : spread(chance, -4_000, 4_000))), devices.length));
    }
  }
  steps.push(...peopleOf(chanceOf(seed, 'people'), at, phones));
  steps.sort((a, b) => a.at - b.at);
  return { seed, plan, devices, steps, lengthMs: at + 2_000, lookMs: long ? 3_000 : 500 };
}
