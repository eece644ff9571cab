/** Owns what is said of how many people came. */
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
import type { Review, ReviewWeek } from '../../../shared/wire/review.ts';
import { Came } from './Came.tsx';

const week = (monday: number, held: number, headClasses: number, heads: number) => ({ monday, held, headClasses, heads }) as ReviewWeek;
const said = (...weeks: ReviewWeek[]): string => renderToStaticMarkup(<Came review={{ weeks, held: weeks.reduce((n, w) => n + w.held, 0) } as unknown as Review} />);

it('V322 how many people came is said of counted classes only, and stands by week in a table under its picture', () => {
  // 4 May 2026 is day 20577. Two counted with 30 people, none counted, four with 36: 11 a class.
  const text = said(week(20_577, 3, 2, 30), week(20_584, 2, 0, 0), week(20_591, 4, 4, 36));
  expect(text).toContain('11 people a class on average, counted in 6 of 9 classes. Most came in the week of 4 May 2026, 15 a class; fewest in that of 18 May 2026, 9.');
  expect(text).toContain('role="img" aria-label="People a class by week');
  expect(text).toMatch(/11 May 2026<\/th><td>2<\/td><td>0<\/td><td>–<\/td><td>–<\/td>/);
  expect(text).toMatch(/18 May 2026<\/th><td>4<\/td><td>4<\/td><td>36<\/td><td>9<\/td>/);
  // A class that nobody counted is no empty class.
  expect(said(week(20_577, 3, 0, 0))).toContain('Nobody counted heads.');
  expect(said(week(20_577, 1, 1, 1))).toContain('1 person a class on average, counted in the one class.');
});
