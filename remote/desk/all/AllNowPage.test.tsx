/** Owns what is said of all houses now. */
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
import type { AllLive } from '../../../shared/wire/all.ts';
import { HouseNow, together } from './AllNowPage.tsx';

const NOW = Date.parse('2026-05-04T16:14:00Z');
type House = AllLive['houses'][number];
const room = (id: string, headCount: number | null, over = false): House['rooms'][number] => ({
  id, name: `The ${id}`, pattern: 0,
  class: { id: `c-${id}`, name: 'Forty twenty', startedAt: NOW - 1_260_000, promisedAt: NOW + 540_000, projectedAt: NOW + 720_000, headCount, title: 'Squat', over, paused: false },
});
const empty = (id: string): House['rooms'][number] => ({ id, name: `The ${id}`, pattern: 0, class: null });
const house = (id: string, rooms: House['rooms'], heardAt: number | null = null, timeZone = 'Europe/Berlin'): House => ({ id, name: id, timeZone, heardAt, rooms });

it('K565 all houses now say how many classes run where, and how many people were counted; a house that was not heard lately is said', () => {
  expect(together([house('north', [empty('garden')]), house('south', [room('attic', 3, true)])])).toBe('No class runs.');
  expect(together([house('north', [room('garden', 14), room('street', null)]), house('south', [room('attic', 9)]), house('west', [])])).toBe('3 classes run in 2 of 3 houses, with 23 people: heads were counted in 2 of the classes.');
  expect(together([house('north', [room('garden', 1)])])).toBe('1 class runs in 1 of 1 house, with 1 person.');
  const said = (h: House, ...others: House[]) => renderToStaticMarkup(<HouseNow house={h} live={{ now: NOW, houses: [h, ...others] }} />);
  const north = said(house('north', [room('garden', 14), empty('street'), empty('cellar')]));
  for (const words of ['17:53 to <b>18:26</b>, 3 min after the promised 18:23', '21 min in, 14 people', 'Nothing on in The street and The cellar.']) expect(north).toContain(words);
  expect(north).not.toContain('Not heard');
  expect(north).not.toContain('there<');
  expect(said(house('north', [empty('garden')], NOW - 60_000))).not.toContain('Not heard');
  expect(said(house('north', [empty('garden')], NOW - 600_000), house('south', [], null, 'Europe/Lisbon'))).toMatch(/18:14 there.*Not heard since 18:04\./);
  expect(said(house('south', []))).toContain('No class has been heard of yet.');
});
