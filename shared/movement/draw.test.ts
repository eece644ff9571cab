/** Holds what is painted of a figure: which shapes, in which tones, and the mat under it. */
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawFigure } from './draw.ts';
import { matCorners } from './mat.ts';
import { motionOf, poseAt, type Motion } from './motion.ts';
import { type Movement, movementSchema } from './movement.ts';
import { bodyOf } from './pose.ts';

const folder = new URL('../../media/movements/', import.meta.url);
const movements: Movement[] = readdirSync(folder).map((f) => movementSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8'))));

function motion(m: Movement): Motion {
  const made = motionOf(m);
  if (!made) throw new Error(`${m.id} has no figure that can be read`);
  return made;
}

describe('drawing', () => {
  it('M11 the working limb wears its sash, and only when it is asked for', () => {
    const lunge = movements.find((m) => m.id === 'reverse-lunge');
    const tones = (side: 'left' | 'right' | 'together', sash: boolean) => drawFigure(lunge, { side, resting: false, sash }, 500).map((s) => s.tone);
    expect(tones('left', true)).toContain('sash');
    expect(tones('right', true)).toContain('sash');
    expect(tones('right', false)).not.toContain('sash');
    expect(tones('together', true)).not.toContain('sash');
  });

  it('M12 a movement without a figure, or at rest, is drawn as a standing body, never an empty box', () => {
    const plain = movements[0];
    if (!plain) throw new Error('no movements');
    const none = drawFigure({ ...plain, figure: undefined }, { side: 'together', resting: false }, 0);
    expect(none.length).toBeGreaterThan(6);
    expect(none).toEqual(drawFigure(undefined, { side: null, resting: false }, 700));
    expect(none).toEqual(drawFigure(plain, { side: 'left', resting: true }, 123));
  });

  it('M35 a limb is cut with an edge only below where it grows out of the trunk, and a sash has none across the limb', () => {
    const lunge = movements.find((m) => m.id === 'reverse-lunge');
    const shapes = drawFigure(lunge, { side: 'right', resting: false, sash: true }, 500);
    expect(shapes.filter((s) => s.root !== undefined && s.d).map((s) => s.tone).sort()).toEqual(['far', 'far', 'mid', 'near', 'near']);
    expect(shapes.filter((s) => s.root !== undefined && !s.d).map((s) => s.tone).sort()).toEqual(['mid', 'near']);
  });

  it('M36 what lies, kneels or bears on its hands has a mat under its feet, knees and trunk; what stands, or uses a chair or a wall, has none', () => {
    for (const m of movements) {
      const mo = motion(m);
      const corners = matCorners(mo);
      const floor = !['stand', 'chair'].includes(mo.figure.base) && !mo.figure.prop;
      expect(corners.length, m.id).toBe(floor ? 4 : 0);
      expect(drawFigure(m, { side: 'right', resting: false }, 0)[0]?.tone === 'mat', m.id).toBe(floor);
      if (!floor) continue;
      const [xs, ys] = [corners.map((p) => p[0]), corners.map((p) => p[1])];
      const b = bodyOf(poseAt(mo, 'right', 0));
      for (const p of [b.root, b.shoulders, b.leftLeg.heel, b.rightLeg.knee]) {
        expect(p[0], m.id).toBeGreaterThan(Math.min(...xs));
        expect(p[0], m.id).toBeLessThan(Math.max(...xs));
        // What is bent sideways in the air, or wide open in sitting, may reach over its sides.
        if (p[2] < 0.1 && m.id !== 'seated-butterfly' && mo.figure.base !== 'side-lying') expect(Math.abs(p[1]), m.id).toBeLessThan(Math.max(...ys));
      }
    }
  });

  it('M13 a figure is at most 18 shapes, all of finite numbers, so that a slow machine keeps up', () => {
    for (const m of movements) {
      for (const at of [0, 900, 1700]) {
        const shapes = drawFigure(m, { side: m.sides === 'together' ? 'together' : 'left', resting: false, sash: true }, at);
        expect(shapes.length, m.id).toBeLessThanOrEqual(18);
        for (const s of shapes) expect(s.d + (s.root ?? ''), m.id).not.toMatch(/NaN|Infinity|undefined/);
      }
    }
  });
});
