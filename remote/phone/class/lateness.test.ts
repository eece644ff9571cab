import { expect, it } from 'vitest';
import { after, serverAt } from '../../../shared/time/units.ts';
import { latenessWords } from './lateness.ts';

const freeAt = serverAt(Date.parse('2026-05-04T16:45:00Z'));
const words = (standing: 'late' | 'early' | 'on-time', byMs: number, free: typeof freeAt | null = freeAt) =>
  latenessWords({ freeAt: free }, { standing, byMs, overrunMs: Math.max(0, byMs), endAt: after(freeAt, byMs), promisedAt: freeAt }, 'Europe/Berlin');

it('says early, on time and late, by how much and until when', () => {
  expect(words('late', 80_000)).toEqual({ how: 'late', words: '1 min 20 s late', detail: 'ends 18:46' });
  expect(words('on-time', 40_000)).toEqual({ how: 'on-time', words: 'On time', detail: 'ends 18:45' });
  expect(words('early', -125_000)).toEqual({ how: 'early', words: '2 min 5 s early', detail: 'ends 18:42' });
});

it('says when the class ends where nobody waits for the floor', () => {
  expect(words('on-time', 0, null)).toEqual({ how: 'open', words: 'Ends at 18:45', detail: '' });
});
