/** Owns what the review is of: from which day to which, which house, room, plan, time of the week, movement. It stands in the address, so that it can be sent. */
import type { AllReview } from '../../../shared/wire/all.ts';
import type { Review } from '../../../shared/wire/review.ts';
import { dateOf, longDay } from './say.ts';

export type Chosen = Readonly<Partial<Record<'from' | 'to' | 'house' | 'room' | 'plan' | 'series' | 'movement', string>>>;
const keys = ['from', 'to', 'house', 'room', 'plan', 'series', 'movement'] as const;

export const chosenIn = (search: string): Chosen => {
  const given = new URLSearchParams(search);
  return Object.fromEntries(keys.flatMap((key) => { const value = given.get(key); return value ? [[key, value]] : []; }));
};
export const queryOf = (chosen: Chosen): string => new URLSearchParams(chosen as Record<string, string>).toString();

const spans = [['4 weeks', 28], ['12 weeks', 84], ['A year', 364]] as const;

interface FilterProps { readonly chosen: Chosen; readonly review: Review | AllReview; readonly choose: (chosen: Chosen) => void }

export function Filter({ chosen, review: r, choose }: FilterProps) {
  const put = (key: keyof Chosen, value: string) => {
    // Rooms and times of the week are one house's.
    const gone: readonly string[] = key === 'house' ? ['house', 'room', 'series'] : [key];
    const others: Chosen = Object.fromEntries(Object.entries(chosen).filter(([k]) => !gone.includes(k)));
    choose(value === '' ? others : { ...others, [key]: value });
  };
  const last = r.last ?? r.to;
  const span = (days: number) => choose({ ...chosen, from: dateOf(last - days + 1), to: dateOf(last) });
  const is = (days: number) => r.to === last && r.from === last - days + 1;
  const pick = (key: 'house' | 'room' | 'plan' | 'series' | 'movement', label: string, all: string, list: Review['choices']['rooms']) => (
    <label><span>{label}</span>
      <select value={chosen[key] ?? ''} onChange={(e) => put(key, e.currentTarget.value)}>
        <option value="">{all}</option>
        {list.map((c) => <option key={c.key} value={c.key}>{c.name}</option>)}
      </select>
    </label>
  );
  return (
    <form className="review-filter" onSubmit={(e) => e.preventDefault()} aria-label="What the review is of">
      <p className="spans">
        {spans.map(([words, days]) => <button key={words} type="button" className="control" aria-pressed={is(days)} onClick={() => span(days)}>{words}</button>)}
        {r.first !== null && <button type="button" className="control" aria-pressed={r.from === r.first && r.to === last} onClick={() => choose({ ...chosen, from: dateOf(r.first ?? 0), to: dateOf(last) })}>All since {longDay(r.first)}</button>}
      </p>
      <div className="picks">
        <label><span>From</span><input type="date" value={dateOf(r.from)} onChange={(e) => put('from', e.currentTarget.value)} /></label>
        <label><span>To</span><input type="date" value={dateOf(r.to)} onChange={(e) => put('to', e.currentTarget.value)} /></label>
        {'houses' in r.choices && pick('house', 'House', 'All houses', r.choices.houses)}
        {pick('room', 'Room', 'All rooms', r.choices.rooms)}
        {pick('plan', 'Plan', 'All plans', r.choices.plans)}
        {pick('series', 'Series or time of the week', 'All of them', r.choices.series)}
        {pick('movement', 'Classes with the move', 'All moves', r.choices.movements)}
      </div>
    </form>
  );
}
