import { expect, it } from 'vitest';
import { after, serverAt } from '../../../shared/time/units.ts';
import { latenessOf } from './lateness.ts';

const freeAt = serverAt(Date.parse('2026-05-04T16:45:00Z'));
const line = (byMs: number) => latenessOf({ freeAt }, { projectedAt: after(freeAt, byMs) }, 'Europe/Berlin');

it('says early, on time and late, by how much and until when', () => {
  expect(line(80_000)).toEqual({ how: 'late', words: '1 min 20 s late', detail: 'ends 18:46' });
  expect(line(14_000).words).toBe('On time');
  expect(line(-14_000).words).toBe('On time');
  expect(line(-15_000)).toEqual({ how: 'early', words: '15 s early', detail: 'ends 18:44' });
});

it('says when the class ends where nobody waits for the floor', () => {
  expect(latenessOf({ freeAt: null }, { projectedAt: freeAt }, 'Europe/Berlin')).toEqual({ how: 'open', words: 'Ends at 18:45', detail: '' });
});
