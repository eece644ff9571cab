/** Holds how signals come onto the audio clock, with an outlet that only writes down. */
import { describe, expect, it } from 'vitest';
import { aheadMs, type Reading, withReading } from '../../shared/sound/audio-time.ts';
import { MOVE_MS, Schedule } from '../../shared/sound/schedule.ts';
import { sane } from '../../shared/sound/settings.ts';
import { serverAt } from '../../shared/time/units.ts';
import type { Signal, SignalKind } from '../../shared/view/signal-kinds.ts';

const signal = (kind: SignalKind, at: number): Signal => ({ kind, at: serverAt(at), occurrence: 'o', caption: '' });

function outlet() {
  const log: string[] = [];
  const clock = { nowMs: 0 };
  const schedule = new Schedule({
    nowMs: () => clock.nowMs,
    start(kind, at) {
      log.push(`${kind} at ${at}`);
      return () => { log.push(`${kind} off`); };
    },
  });
  return { log, clock, schedule };
}

describe('the audio clock', () => {
  it('C18 the middle of many stamps counts, and without stamps the furthest current time less the latencies', () => {
    const at = (deviceMs: number, currentMs: number, stampMs: number | null): Reading => ({
      deviceMs, currentMs, baseLatencyMs: 10, outputLatencyMs: 32, stamp: stampMs === null ? null : { audioMs: stampMs, deviceMs: deviceMs - 5 },
    });
    const steady = [1, 2, 3, 4, 5].map((n) => at(1_000 + n * 50, 1_200 + n * 50, 1_145 + n * 50 + (n === 3 ? -9 : 0)));
    expect(aheadMs(steady)).toBe(150);
    // Steps of a buffer: the current time lags by up to 10 ms.
    const steps = [0, -4, -8, -2, -10].map((lag, n) => at(1_000 + n * 50, 1_192 + n * 50 + lag, null));
    expect(aheadMs(steps)).toBe(150);
    expect(aheadMs([])).toBeNull();
    expect(aheadMs([{ ...at(1_000, 1_192, null), stamp: { audioMs: 0, deviceMs: 0 } }])).toBe(150);
    expect(Array.from({ length: 50 }, (_, n) => n).reduce<readonly Reading[]>((r, n) => withReading(r, at(n, n, null)), []).length).toBe(20);
  });

  it('C18 the correction is at most 300 ms either way, whatever was stored', () => {
    expect([900, -900, 120.4, Number.NaN, '7'].map((correctionMs) => sane({ correctionMs }).correctionMs)).toEqual([300, -300, 120, 0, 0]);
    expect(sane('nonsense')).toEqual(sane(null));
  });

  it('C19 what moves by more than 3 ms is moved, what is no longer wanted is taken off, and what sounds stays', () => {
    const { log, clock, schedule } = outlet();
    const [go, end] = [signal('go', 1_000), signal('end', 2_000)];
    schedule.update([go, end], (s) => s.at + 100);
    expect(log.splice(0)).toEqual(['go at 1100', 'end at 2100']);
    schedule.update([go, end], (s) => s.at + 100 + MOVE_MS);
    expect(log.splice(0)).toEqual([]);
    schedule.update([go, end], (s) => s.at + 104);
    expect(log.splice(0)).toEqual(['go off', 'go at 1104', 'end off', 'end at 2104']);
    clock.nowMs = 1_150;
    schedule.update([go, signal('paused', 1_050)], (s) => s.at + 120);
    expect(log.splice(0)).toEqual(['end off', 'paused at 1170']);
    schedule.clear();
    expect(log.splice(0)).toEqual(['paused off']);
  });

  it('C19 a signal that is late already starts at once, and only once', () => {
    const { log, clock, schedule } = outlet();
    clock.nowMs = 5_000;
    schedule.update([signal('paused', 4_900)], (s) => s.at);
    clock.nowMs = 5_050;
    schedule.update([signal('paused', 4_900)], (s) => s.at);
    expect(log).toEqual(['paused at 5000']);
  });
});
