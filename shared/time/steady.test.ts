/** Holds the shown clock to its promises under any sequence of estimates. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Estimate } from './offset.ts';
import { HOLD_MOST_MS, read, STEP_MS, type Steady } from './steady.ts';
import { deviceAt, serverAt } from './units.ts';

const says = (at: number, settling = false): Estimate => ({ serverAt: serverAt(at), errorMs: 1, settling });
const start = (at: number): Steady => ({ shownAt: serverAt(at), readAt: deviceAt(0) });

it('O13 the shown clock never goes back, and slews at most 5 ms a second when settled', () => {
  const looks = fc.array(fc.tuple(fc.double({ min: 0, max: 200, noNaN: true }), fc.double({ min: -STEP_MS / 2, max: STEP_MS / 2, noNaN: true }), fc.boolean()), { maxLength: 60 });
  fc.assert(
    fc.property(looks, (steps) => {
      let steady = start(1_000);
      let now = 0;
      for (const [passed, wrong, settling] of steps) {
        now += passed;
        const got = read(steady, says(1_000 + now + wrong, settling), deviceAt(now));
        if (got === null) throw new Error('nothing shown');
        expect(got.serverAt).toBeGreaterThanOrEqual(steady.shownAt);
        if (!settling) expect(Math.abs(got.serverAt - steady.shownAt - passed)).toBeLessThanOrEqual(0.005 * passed + 1e-6);
        steady = got.steady;
      }
    }),
  );
});

it('O14 it jumps forward past the step threshold, stands still when ahead, and goes back only over a second', () => {
  const at = (behind: number) => read(start(10_000), says(10_016 + behind), deviceAt(16))?.serverAt;
  expect(at(STEP_MS + 1)).toBe(10_016 + STEP_MS + 1);
  expect(at(STEP_MS - 1)).toBeCloseTo(10_016.08, 6);
  expect(at(-STEP_MS - 1)).toBe(10_000);
  expect(at(-HOLD_MOST_MS - 1)).toBe(10_016 - HOLD_MOST_MS - 1);
});

it('O15 the bound shown counts what is still to slew, and without an estimate the clock goes on and claims none', () => {
  const got = read(start(10_000), says(10_050), deviceAt(0));
  expect(got?.errorMs).toBe(51);
  const alone = read(start(10_000), null, deviceAt(500));
  expect(alone?.serverAt).toBe(10_500);
  expect(alone?.errorMs).toBeNull();
  expect(read(null, null, deviceAt(0))).toBeNull();
});
