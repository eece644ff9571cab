/** Holds the moments of a moving figure to the figure that is drawn from nothing. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawFigure, loopMs } from '../../movement/draw.ts';
import { movementSchema } from '../../movement/movement.ts';
import { howOf } from './Figure.tsx';
import { marksOf } from './marks.ts';
import { momentsOf } from './Moving.tsx';

const movement = (id: string) => movementSchema.parse(JSON.parse(readFileSync(new URL(`../../../media/movements/${id}.json`, import.meta.url), 'utf8')));

describe('a figure that moves', () => {
  it('V470 a moment is the figure as it is drawn at most a thirtieth of a second earlier, the same for two screens and in every loop', () => {
    for (const id of ['squat', 'reverse-lunge', 'glute-bridge', 'march-in-place']) {
      const m = movement(id);
      const [one, other] = [momentsOf(m, 'left', true), momentsOf(m, 'left', true)];
      const count = Math.round((loopMs(m) * 30) / 1_000);
      for (let k = 0; k < count; k += 1) {
        const at = ((k + 0.4) * loopMs(m)) / count;
        const drawn = marksOf(drawFigure(m, howOf({ pose: 'moving', side: 'left', sash: true }), (k * loopMs(m)) / count), false);
        expect(one(at)).toEqual(drawn);
        expect(other(at + 3 * loopMs(m))).toEqual(drawn);
        // Nothing is written again at a frame that shows what was there.
        expect(one(at + 1)).toBe(one(at));
      }
    }
  });
});
