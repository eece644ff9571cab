/** Holds the box that a figure is given on a page. */
import { readFileSync, readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { drawFigure, loopMs } from './draw.ts';
import { ASPECT, FLOOR_SHARE, frameOf } from './frame.ts';
import { type Movement, movementSchema } from './movement.ts';

const folder = new URL('../../media/movements/', import.meta.url);
const movements: Movement[] = readdirSync(folder).map((f) => movementSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8'))));
const SLACK = 40;

it('M22 a figure stays inside its box all through its loop and stands on its floor line', () => {
  for (const m of movements) {
    const box = frameOf(m, false);
    const floor = box.top + box.height * (1 - FLOOR_SHARE);
    expect(box.width / box.height).toBeCloseTo(ASPECT, 9);
    let [least, most, highest, lowest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0; i < 30; i++) {
      for (const s of drawFigure(m, { side: 'right', resting: false }, (loopMs(m) * i) / 30)) {
        if (s.tone === 'shade' || s.tone === 'prop') continue;
        for (const [, x = '', y = ''] of (s.d + (s.root ?? '')).matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
          least = Math.min(least, Number(x));
          most = Math.max(most, Number(x));
          highest = Math.min(highest, Number(y));
          lowest = Math.max(lowest, Number(y));
        }
      }
    }
    expect(least, m.id).toBeGreaterThan(box.left - SLACK);
    expect(most, m.id).toBeLessThan(box.left + box.width + SLACK);
    expect(highest, m.id).toBeGreaterThan(box.top - SLACK);
    expect(Math.abs(lowest - floor), `${m.id} on its floor line`).toBeLessThan(45);
  }
});
