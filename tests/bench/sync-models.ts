/**
 * Owns the networks and devices that the clock is tried on. Delays are judgement, fitted to
 * what studios and homes show; no source. Half the difference of the least delays (1.0 ms on the
 * Wi-Fi) is what no two-way method can see.
 */
import { type Chance, type Leg, type Model, normal } from './sync-world.ts';

const lognormal = (chance: Chance, median: number, sigma: number): number => median * Math.exp(sigma * normal(chance));

const wifiLeg = (chance: Chance, least: number, median: number, sigma: number, lossShare: number): Leg => () => {
  if (chance() < lossShare) return null;
  if (chance() < 0.01) return 100 + 100 * chance();
  return Math.min(least + lognormal(chance, median, sigma), 40);
};

const wifi = (chance: Chance) => ({
  up: wifiLeg(chance, 4, 5, 1.0, 0.02),
  down: wifiLeg(chance, 2, 3, 0.9, 0.02),
});

const lan = (chance: Chance) => ({ up: () => 1 + 2 * chance(), down: () => 1 + 2 * chance() });

/** A lost segment comes again 200 to 400 ms later, and everything behind it waits (TCP). */
const again = (chance: Chance, leg: Leg): Leg => (at) => {
  const ms = leg(at) ?? 0;
  return chance() < 0.02 ? ms + 200 + 200 * chance() : ms;
};
const tcp = (chance: Chance) => ({
  up: again(chance, wifiLeg(chance, 4, 5, 1.0, 0)),
  down: again(chance, wifiLeg(chance, 2, 3, 0.9, 0)),
});

/** Somebody uploads: a queue of 20 to 80 ms stands in the way up for about 20 s, then is gone for about 10 s. */
const queued = (chance: Chance) => {
  const ways = wifi(chance);
  let standing = chance() < 2 / 3;
  let until = 0;
  let deepMs = 20 + 60 * chance();
  const up: Leg = (at) => {
    while (at >= until) {
      if (until > 0) standing = !standing;
      deepMs = 20 + 60 * chance();
      until = Math.max(until, 1) - (standing ? 20_000 : 10_000) * Math.log(1 - chance());
    }
    const ms = ways.up(at);
    return ms === null || !standing ? ms : ms + deepMs * (0.8 + 0.4 * chance());
  };
  return { up, down: ways.down };
};

const plain = { ppm: 20, tickMs: 0, wallStepMs: 0, sleepMs: 0, inOrder: false };

export const models: readonly Model[] = [
  { ...plain, name: 'LAN', legs: lan },
  { ...plain, name: 'Wi-Fi', legs: wifi },
  { ...plain, name: '50 ppm, wall step 3 s', ppm: 50, wallStepMs: 3_000, legs: wifi },
  { ...plain, name: 'loss over TCP', inOrder: true, legs: tcp },
  { ...plain, name: 'standing uplink queue', legs: queued },
  { ...plain, name: '1 ms device clock', tickMs: 1, legs: wifi },
  { ...plain, name: 'sleep of an hour', sleepMs: 3_600_000, legs: wifi },
];
