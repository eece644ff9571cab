import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { type Movement, movementSchema } from '../../movement/movement.ts';
import { pictureSchema } from '../../movement/picture.ts';
import { Figure, type FigureProps } from './Figure.tsx';

const movement = (sides: Movement['sides'], file: string): Movement => movementSchema.parse({
  format: 1, id: 'towel-pull', name: 'Towel pull', sides, start: 'standing', end: 'standing', impact: 'none', pattern: 'pull', areas: ['arms'], suits: ['main'],
  leastS: 15, setUp: 'Stand.', action: 'Pull.', cues: ['Tall', 'Slow'], lookFor: ['Shrugging'], option: { words: 'Sit' }, build: { words: 'Slower' },
  phrases: { left: 'left arm', right: 'right arm' }, intensity: { code: '02024', met: 2.8 }, picture: { kind: file.endsWith('webm') ? 'clip' : 'picture', file },
});
const drawn = (m: Movement, pose: FigureProps['pose'], side: FigureProps['side']) =>
  renderToStaticMarkup(<Figure movement={m} pose={pose} side={side} atMs={0} height={100} title="Towel pull" />);

describe("a movement's own picture", () => {
  it('M32 stands where the figure would, at its height and no wider than words leave room, a clip without sound and round and round', () => {
    const still = drawn(movement('each', 'towel-pull.jpg'), 'moving', 'right');
    expect(still).toMatch(/<img [^>]*aspect-ratio:1;[^>]*src="\/pictures\/towel-pull\.jpg" alt="Towel pull"\/>$/);
    const clip = drawn(movement('each', 'towel-pull.webm'), 'moving', 'right');
    expect(clip).toMatch(/^<video [^>]*src="\/pictures\/towel-pull\.webm" muted="" loop="" playsInline=""/);
  });

  it('M32 the left is its mirror image where sides are done one at a time', () => {
    expect(drawn(movement('each', 'towel-pull.jpg'), 'still', 'left')).toContain('scaleX(-1)');
    expect(drawn(movement('each', 'towel-pull.jpg'), 'still', 'right')).not.toContain('scaleX');
    expect(drawn(movement('together', 'towel-pull.jpg'), 'still', 'left')).not.toContain('scaleX');
  });

  it('M32 whoever rests is a body at rest', () => {
    expect(drawn(movement('each', 'towel-pull.webm'), 'resting', null)).toMatch(/^<svg /);
  });

  it('M30 the name in a file leads nowhere but to a picture of the five kinds', () => {
    for (const file of ['../secret.png', 'a/b.png', 'a.svg', 'a.html', 'A.png', 'a.png.exe', '.png']) expect(pictureSchema.safeParse({ kind: 'picture', file }).success, file).toBe(false);
    expect(pictureSchema.safeParse({ kind: 'picture', file: 'a.mp4' }).error?.issues[0]?.message).toBe('a.mp4 is a clip');
  });
});
