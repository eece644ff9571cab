/** Checks our loudness meter against published test tones, which it shares nothing with. */
import { describe, expect, it } from 'vitest';
import { integrated, kFilters, loudest, truePeak } from '../../media/sounds/loudness.ts';

const tone = (rate: number, hz: number, parts: readonly (readonly [dB: number, seconds: number])[]): Float64Array => {
  const out = new Float64Array(parts.reduce((sum, [, s]) => sum + Math.round(s * rate), 0));
  let i = 0;
  for (const [dB, s] of parts) {
    for (const end = i + Math.round(s * rate); i < end; i += 1) out[i] = 10 ** (dB / 20) * Math.sin((2 * Math.PI * hz * i) / rate);
  }
  return out;
};

describe('the loudness meter', () => {
  it('C16 its filters are those of ITU-R BS.1770 Annex 1 at 48 kHz', () => {
    // ITU-R BS.1770, tables 1 and 2 of Annex 1 (figures from memory).
    const [shelf, pass] = kFilters(48_000);
    [1.53512485958697, -2.69169618940638, 1.19839281085285].forEach((b, i) => { expect(shelf.b[i]).toBeCloseTo(b, 6); });
    [-1.69065929318241, 0.73248077421585].forEach((a, i) => { expect(shelf.a[i]).toBeCloseTo(a, 6); });
    [-1.99004745483398, 0.99007225036621].forEach((a, i) => { expect(pass.a[i]).toBeCloseTo(a, 6); });
  });

  it('C16 997 Hz at full scale reads -3.01 in one channel and 0.0 in two, at every sample rate', () => {
    // ITU-R BS.1770 Annex 1: the calibration tone.
    for (const rate of [24_000, 32_000, 44_100, 48_000]) {
      const x = tone(rate, 997, [[0, 3]]);
      expect(Math.abs(integrated([x], rate) + 3.01)).toBeLessThan(0.05);
      expect(Math.abs(integrated([x, x], rate))).toBeLessThan(0.05);
      expect(Math.abs(loudest(x, rate) + 3.01)).toBeLessThan(0.05);
    }
  });

  it('C16 EBU Tech 3341 cases 1 to 5 read what they should, to 0.1 LU', () => {
    // EBU Tech 3341, table 1: stereo 1 kHz sines, dBFS and seconds. Cases 3 to 5 from memory.
    const cases: readonly (readonly [number, readonly (readonly [number, number])[]])[] = [
      [-23, [[-23, 20]]],
      [-33, [[-33, 20]]],
      [-23, [[-36, 10], [-23, 60], [-36, 10]]],
      [-23, [[-72, 10], [-36, 10], [-23, 60], [-36, 10], [-72, 10]]],
      [-23, [[-26, 20], [-20, 20.1], [-26, 20]]],
    ];
    for (const [wanted, parts] of cases) {
      const x = tone(48_000, 1_000, parts);
      expect(Math.abs(integrated([x, x], 48_000) - wanted)).toBeLessThan(0.1);
    }
  });

  it('C16 the true peak of a tone that is sampled beside its peaks is found between the samples', () => {
    // EBU Tech 3341, true peak: a quarter of the sample rate, 45 degrees off, amplitude 0.5, reads -6.0 +0.2/-0.4 (from memory).
    const x = Float64Array.from({ length: 4_800 }, (_, i) => 0.5 * Math.sin((Math.PI / 2) * i + Math.PI / 4));
    expect(Math.max(...x)).toBeLessThan(0.36);
    const faded = x.map((v, i) => v * Math.min(1, i / 500, (x.length - i) / 500));
    expect(truePeak(faded)).toBeGreaterThan(-6.4);
    expect(truePeak(faded)).toBeLessThan(-5.8);
  });
});
