/**
 * Owns the ways to know the server's time that are held against each other, but for the two
 * packages from npm (sync-packages.ts): ours, a message a second, one sample, the least of eight.
 */
import * as offset from '../../shared/time/offset.ts';
import { read, type Steady } from '../../shared/time/steady.ts';
import { deviceAt, serverAt } from '../../shared/time/units.ts';
import type { World } from './sync-world.ts';

export interface Shown {
  readonly at: number;
  /** What it claims to be off by at most; null where nothing is claimed. */
  readonly errorMs: number | null;
}
export interface Contender {
  readonly name: string;
  /** True where its own timers and promises must be driven (see sync-packages.ts). */
  readonly packaged: boolean;
  /** Starts on the world and gives the way to read the clock. */
  readonly start: (world: World) => () => Shown | null;
}

/** The shortest timer that a browser grants. */
const TIMER_LEAST_MS = 1;

const ours: Contender = {
  name: 'Hallclock',
  packaged: false,
  start: (world) => {
    let state = offset.newEstimator;
    let steady: Steady | null = null;
    let timer = { cancel: () => {} };
    const notice = (): void => {
      const before = state;
      state = offset.noticeClocks(state, world.wall, deviceAt(world.mono));
      if (state.doubt !== before.doubt) plan();
    };
    const plan = (): void => {
      timer.cancel();
      const waitMs = offset.nextSampleAt(state) - world.mono;
      timer = world.after(waitMs > 0 ? Math.max(waitMs, TIMER_LEAST_MS) : 0, () => {
        notice();
        if (!offset.needsSample(state, deviceAt(world.mono))) return plan();
        const t1 = deviceAt(world.mono);
        state = offset.asked(state, t1);
        world.probe((t2, t3) => {
          notice();
          state = offset.addSample(state, { t1, t2: serverAt(t2), t3: serverAt(t3), t4: deviceAt(world.mono) });
          plan();
        });
        plan();
      });
    };
    world.onWake = notice;
    notice();
    plan();
    return () => {
      notice();
      const now = deviceAt(world.mono);
      const shown = read(steady, offset.estimate(state, now), now);
      steady = shown?.steady ?? null;
      return shown === null ? null : { at: shown.serverAt, errorMs: shown.errorMs };
    };
  },
};

const everySecond: Contender = {
  name: 'a message a second',
  packaged: false,
  start: (world) => {
    let last: number | null = null;
    const next = (): void => {
      world.tell((sentAt) => (last = sentAt));
      world.after(1_000, next);
    };
    next();
    return () => (last === null ? null : { at: last, errorMs: null });
  },
};

const oneSample: Contender = {
  name: 'one sample',
  packaged: false,
  start: (world) => {
    let off: number | null = null;
    const ask = (): void => {
      const t1 = world.wall;
      world.probe((t2, t3) => (off = (t2 - t1 + t3 - world.wall) / 2));
      world.after(1_000, () => off === null && ask());
    };
    ask();
    return () => (off === null ? null : { at: world.wall + off, errorMs: null });
  },
};

const leastOfEight: Contender = {
  name: 'least delay of last 8',
  packaged: false,
  start: (world) => {
    let last: { off: number; delay: number }[] = [];
    const ask = (): void => {
      const t1 = world.mono;
      world.probe((t2, t3) => {
        const t4 = world.mono;
        last = [...last, { off: (t2 - t1 + t3 - t4) / 2, delay: t4 - t1 - (t3 - t2) }].slice(-8);
      });
      world.after(last.length === 0 ? 1_000 : 10_000, ask);
    };
    ask();
    return () => {
      if (last.length === 0) return null;
      return { at: world.mono + last.reduce((a, b) => (b.delay < a.delay ? b : a)).off, errorMs: null };
    };
  },
};

export const contenders: readonly Contender[] = [ours, everySecond, oneSample, leastOfEight];
