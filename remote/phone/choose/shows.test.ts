/** Owns how the times of shows are said on the phone. */
import { expect, it } from 'vitest';
import { showWords } from './Shows.tsx';
import { labelOf } from './use-label.ts';

it('F25 the phone says what a show was planned to take and what it usually takes, and when that is everybody\'s', () => {
  const show = { movement: 'squat', plannedMs: 20_000, usuallyMs: 34_000, of: 4 } as const;
  expect(showWords({ ...show, from: 'own' }, 'Ada')).toBe('planned 20 s, usually 34 s');
  expect(showWords({ ...show, from: 'everybody' }, 'Ada')).toBe('planned 20 s, usually 34 s (everybody)');
});

it('F26 the label of who teaches is at most 20 letters, without spaces around it', () => {
  expect(labelOf('  Ada  ')).toBe('Ada');
  expect(labelOf('x'.repeat(30))).toHaveLength(20);
  expect(labelOf('   ')).toBe('');
});
