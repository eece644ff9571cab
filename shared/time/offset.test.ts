/** Holds the clock estimate to published examples and to what no estimate may ever do. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  addSample, asked, BURST, delayMs, dispersionMs, type Estimator, estimate, joined, needsSample, newEstimator, nextSampleAt, noticeClocks, ofClock, offsetMs, type Sample,
} from './offset.ts';
import { deviceAt, serverAt } from './units.ts';

const sample = (t1: number, t2: number, t3: number, t4: number): Sample => ({
  t1: deviceAt(t1), t2: serverAt(t2), t3: serverAt(t3), t4: deviceAt(t4),
});
/** An exchange begun at `t1` by a device whose server is `off` ahead. */
const exchange = (t1: number, up: number, down: number, off = 5_000): Sample =>
  sample(t1, t1 + up + off, t1 + up + off, t1 + up + down);
const fed = (samples: readonly Sample[], from = newEstimator): Estimator => samples.reduce(addSample, from);
const errorAt = (state: Estimator, now: number, truth: number): { off: number; claimed: number } => {
  const e = estimate(state, deviceAt(now));
  if (e === null) throw new Error('no estimate after a sample');
  return { off: e.serverAt - truth, claimed: e.errorMs };
};

it('O1 an exchange gives delay and offset as the published examples have them', () => {
  // H3C S5120-EI manual, p. 1079: T1 10:00:00, T2 11:00:01, T3 11:00:02, T4 10:00:03: delay 2 s, offset 1 h.
  const hour = 3_600_000;
  const s = sample(10 * hour, 11 * hour + 1_000, 11 * hour + 2_000, 10 * hour + 3_000);
  expect(delayMs(s)).toBe(2_000);
  expect(offsetMs(s)).toBe(hour);
  expect(errorAt(addSample(newEstimator, s), 10 * hour + 3_000, 11 * hour + 3_000).off).toBeCloseTo(0, 3);
});

it('O2 the bound of one exchange is half its delay and a dispersion that grows with age', () => {
  // DVB-CSS (ETSI TS 103 286-2) as in bbc/pydvbcss _dispersion.py: 5 007 550 ns, 10 s later 10 507 550 ns.
  const s = sample(0, 5, 6, 11);
  const of = { serverPrecisionMs: 0.001, devicePrecisionMs: 0.001, serverPpm: 50, devicePpm: 500 };
  expect(dispersionMs(s, of, deviceAt(11)) * 1e6).toBeCloseTo(5_007_550, 3);
  expect(dispersionMs(s, of, deviceAt(10_011)) * 1e6).toBeCloseTo(10_507_550, 3);
  const state = addSample(newEstimator, s);
  expect(errorAt(state, 11, 10.5).claimed).toBeGreaterThanOrEqual(5);
  expect(errorAt(state, 10_011, 0).claimed).toBeGreaterThan(errorAt(state, 11, 0).claimed + 1);
});

it('O3 a delay that comes out negative is clamped and the sample still counts', () => {
  // RFC 5905 section 8: 100 ppm over 64 s make an apparent delay of -6.4 ms.
  const s = sample(0, 100, 64_106.4, 64_000);
  expect(delayMs(s)).toBeCloseTo(-6.4, 9);
  const got = errorAt(addSample(newEstimator, s), 32_000, 32_000 + offsetMs(s));
  expect(Math.abs(got.off)).toBeLessThan(10);
  expect(got.claimed).toBeGreaterThan(0);
});

it('O4 equal delays and zero delays are as good as others', () => {
  for (const way of [0, 2]) {
    const state = fed(Array.from({ length: 50 }, (_, i) => exchange(i * 500, way, way)));
    expect(state.steps).toBe(0);
    expect(state.window).toHaveLength(50);
    expect(Math.abs(errorAt(state, 25_000, 30_000).off)).toBeLessThan(0.01);
  }
});

it('O5 the claimed bound holds the truth whatever the delays, up to 100 ppm', () => {
  const way = fc.double({ min: 0, max: 300, noNaN: true });
  fc.assert(
    fc.property(fc.integer({ min: -100, max: 100 }), fc.array(fc.tuple(way, way), { minLength: 1, maxLength: 7 }), fc.integer({ min: 0, max: 60_000 }), (ppm, ways, wait) => {
      const device = (ms: number): number => ms * (1 + ppm * 1e-6);
      const samples = ways.map(([up, down], i) => sample(device(i * 1_000), 9e9 + i * 1_000 + up, 9e9 + i * 1_000 + up, device(i * 1_000 + up + down)));
      const state = fed(samples);
      expect(state.steps).toBe(0);
      const trueMs = ways.length * 1_000 + 600 + wait;
      const { off, claimed } = errorAt(state, device(trueMs), 9e9 + trueMs);
      expect(Math.abs(off)).toBeLessThanOrEqual(claimed);
    }),
  );
});

it('O6 a step is known by the first sample after it: the window goes and a burst comes', () => {
  const before = fed(Array.from({ length: 60 }, (_, i) => exchange(i * 1_000, 5, 3)));
  const after = addSample(before, exchange(60_000, 5, 3, 8_000));
  expect(after.steps).toBe(1);
  expect(after.window).toHaveLength(1);
  expect(after.burstLeft).toBe(BURST - 1);
  expect(Math.abs(errorAt(after, 60_008, 68_008).off)).toBeLessThanOrEqual(1.01);
});

it('O7 an hour without samples stays good to the bound it claims', () => {
  const rate = 1 + 50e-6;
  const state = fed(Array.from({ length: 300 }, (_, i) => {
    const up = 4 + ((i * 7) % 13);
    const down = 2 + ((i * 5) % 11);
    return sample(i * 2_000 * rate, i * 2_000 + up, i * 2_000 + up, (i * 2_000 + up + down) * rate);
  }));
  const trueMs = 600_000 + 3_600_000;
  const { off, claimed } = errorAt(state, trueMs * rate, trueMs);
  expect(Math.abs(off)).toBeLessThanOrEqual(claimed);
  expect(Math.abs(off)).toBeLessThan(10);
});

it('O8 a device asleep for an hour doubts itself at once and is right with the first sample', () => {
  let state = noticeClocks(fed([exchange(0, 5, 3), exchange(1_000, 5, 3)]), 1_000, deviceAt(1_008));
  state = asked(state, deviceAt(1_008));
  state = noticeClocks(state, 1_000 + 3_600_016, deviceAt(1_024));
  expect(needsSample(state, deviceAt(1_024))).toBe(true);
  expect(estimate(state, deviceAt(1_024))?.errorMs).toBeGreaterThan(3_600_000);
  expect(addSample(state, sample(1_000, 6_005, 6_005, 1_030))).toBe(state);
  state = addSample(state, exchange(1_025, 5, 3, 3_605_000));
  expect(state.steps).toBe(1);
  expect(Math.abs(errorAt(state, 1_040, 3_606_040).off)).toBeLessThanOrEqual(1.01);
});

it('O8 a sample slower than the device slept agrees with the past and is still not taken for proof of it', () => {
  const before = noticeClocks(fed([exchange(0, 5, 3), exchange(1_000, 5, 3)]), 1_000, deviceAt(1_008));
  const woken = noticeClocks(before, 1_000 + 253, deviceAt(1_008));
  const slow = addSample(woken, exchange(1_009, 20, 600, 5_253));
  const { off, claimed } = errorAt(slow, 1_629, 1_629 + 5_253);
  expect(claimed).toBeGreaterThanOrEqual(Math.abs(off));
  expect(Math.abs(errorAt(addSample(slow, exchange(1_700, 5, 3, 5_253)), 1_709, 1_709 + 5_253).off)).toBeLessThanOrEqual(2);
});

it('O9 a wall clock that is set moves nothing and costs one sample', () => {
  const good = noticeClocks(fed([exchange(0, 5, 3), exchange(1_000, 5, 3)]), 1_000, deviceAt(1_008));
  const doubtful = noticeClocks(good, 4_016, deviceAt(1_024));
  expect(estimate(doubtful, deviceAt(1_024))?.serverAt).toBe(estimate(good, deviceAt(1_024))?.serverAt);
  const sure = addSample(doubtful, exchange(1_030, 5, 3));
  expect(sure.doubt).toBeNull();
  expect(sure.burstLeft).toBe(0);
  expect(sure.steps).toBe(0);
});

it('O10 ten probes within 0.3 s of joining, then ever more seldom, 300 at most in ten minutes', () => {
  let state = joined(newEstimator);
  let now = 0;
  const times: number[] = [];
  while (now < 600_000) {
    state = addSample(asked(state, deviceAt(now)), exchange(now, 5, 3));
    times.push(now);
    now = nextSampleAt(state);
  }
  expect(times[BURST - 1]).toBeLessThan(300);
  expect(times[BURST]).toBeGreaterThan(500);
  expect(times.length).toBeLessThanOrEqual(300);
});

it('O11 a device clock of whole milliseconds keeps its bound', () => {
  const state = fed(Array.from({ length: 100 }, (_, i) => {
    const at = i * 700.37;
    return sample(Math.floor(at), at + 905.3, at + 905.4, Math.floor(at + 8.1));
  }));
  expect(state.steps).toBe(0);
  const { off, claimed } = errorAt(state, 70_100, 70_100.5 + 900);
  expect(Math.abs(off)).toBeLessThanOrEqual(claimed);
  expect(Math.abs(off)).toBeLessThan(2.5);
});

it('O12 stamps that run backwards or are no numbers are left out', () => {
  const state = fed([exchange(0, 5, 3)]);
  expect(addSample(state, sample(10, 20, 20, 9))).toBe(state);
  expect(addSample(state, sample(10, 20, 19, 12))).toBe(state);
  expect(addSample(state, sample(10, Number.NaN, 20, 12))).toBe(state);
});

it('O42 samples of two clocks of the server are never mixed, however well they agree', () => {
  const old = fed(Array.from({ length: 60 }, (_, i) => exchange(i * 1_000, 5, 3)), ofClock(newEstimator, 'one'));
  expect(ofClock(old, 'one')).toBe(old);
  // The server lost power and lives 378 ms in the past; the first sample takes 810 ms and contradicts nothing.
  const slow = exchange(60_000, 420, 390, 5_000 - 378);
  expect(addSample(old, slow).steps).toBe(0);
  const other = ofClock(old, 'two');
  expect(estimate(other, deviceAt(60_000))).toBeNull();
  expect(other.burstLeft).toBe(BURST);
  const { off, claimed } = errorAt(addSample(other, slow), 60_810, 65_810 - 378);
  expect(Math.abs(off)).toBeLessThanOrEqual(claimed);
});
