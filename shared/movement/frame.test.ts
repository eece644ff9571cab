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
    let lowest = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < 30; i++) {
      for (const s of drawFigure(m, { side: 'right', resting: false }, (loopMs(m) * i) / 30)) {
        if (s.tone === 'shade' || s.tone === 'prop') continue;
        for (const [, x = '', y = ''] of s.d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
          expect(Number(x), m.id).toBeGreaterThan(box.left - SLACK);
          expect(Number(x), m.id).toBeLessThan(box.left + box.width + SLACK);
          expect(Number(y), m.id).toBeGreaterThan(box.top - SLACK);
          lowest = Math.max(lowest, Number(y));
        }
      }
    }
    expect(Math.abs(lowest - floor), `${m.id} on its floor line`).toBeLessThan(45);
  }
});
