/** Owns what rooms and times of the week are called: "Garden room", "Mondays 18:15, Garden room". A room that is gone keeps its id. */
import type { Review } from '../../shared/wire/review.ts';
import { OF_PLAN } from './record.ts';

const days = ['Mondays', 'Tuesdays', 'Wednesdays', 'Thursdays', 'Fridays', 'Saturdays', 'Sundays'];
type Keyed = { readonly key: string; readonly name: string };

export function named<T extends Pick<Review, 'choices' | 'rooms' | 'series'>>(review: T, rooms: readonly { readonly id: string; readonly name: string }[]): T {
  const room = (id: string): string => rooms.find((r) => r.id === id)?.name ?? id;
  const series = (key: string): string => {
    if (key.startsWith(OF_PLAN)) return key.slice(OF_PLAN.length);
    const [id = '', day = '', time = ''] = key.split(' ');
    return `${days[Number(day) - 1] ?? day} ${time}, ${room(id)}`;
  };
  const as = <K extends Keyed>(list: readonly K[], name: (key: string) => string): K[] => list.map((k) => ({ ...k, name: name(k.key) }));
  return {
    ...review,
    rooms: as(review.rooms, room), series: inWeek(as(review.series, series)),
    choices: { ...review.choices, rooms: as(review.choices.rooms, room), series: inWeek(as(review.choices.series, series)) },
  };
}

/** Series by their names, then the times in the order of the week. */
const inWeek = <K extends Keyed>(list: readonly K[]): K[] => {
  const order = (key: string) => (key.startsWith(OF_PLAN) ? ` ${key}` : key.split(' ').slice(1).concat(key).join(' '));
  return [...list].sort((a, b) => (order(a.key) < order(b.key) ? -1 : 1));
};
