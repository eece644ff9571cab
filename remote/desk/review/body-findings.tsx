/** Owns the answers about bodies: where we stopped for form, and what a week asks of somebody who comes to all of it. */
import { kcalRange } from '../../../shared/effort/energy.ts';
import { rateOf } from '../../../shared/effort/rate.ts';
import { againstGuidelines, MUSCLE_DAYS, WEEK_MINUTES } from '../../../shared/effort/week.ts';
import type { Review, ReviewWeek } from '../../../shared/wire/review.ts';
import { Finding } from './Finding.tsx';
import { Lines } from './Lines.tsx';
import { classes, count, hours, inText, list, longDay, number } from './say.ts';
import { Weeks } from './Weeks.tsx';

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const SHOWN = 24;
/** A move that was worked at for less says too little to be drawn. */
const LEAST_MS = 10 * MINUTE_MS;

export function FormStops({ review: { moves, movement } }: { review: Review }) {
  const worked = moves.filter((m) => m.workMs > 0);
  const stops = worked.reduce((n, m) => n + m.formStops, 0);
  const workMs = worked.reduce((sum, m) => sum + m.workMs, 0);
  const all = rateOf(stops, workMs / HOUR_MS);
  const question = 'Where do we stop for form?';
  if (movement && all) {
    return <Finding question={question} answer={<>At {inText(movement.name)} {stops === 0 ? 'not once' : count(stops, 'time', 'times')} in {hours(workMs)} of work: {stops === 0 ? `truly below ${number(all.high)} an hour` : `${number(all.rate)} an hour, and truly somewhere between ${number(all.low)} and ${number(all.high)}`}.</>} source={['rate']} />;
  }
  if (!all || stops === 0) return <Finding question={question} answer="Nowhere, in this time." source={['rate']} />;
  const rated = worked.flatMap((m) => { const rate = rateOf(m.formStops, m.workMs / HOUR_MS); return rate ? [{ ...m, ...rate }] : []; });
  const sure = rated.filter((m) => m.low > all.rate);
  const drawn = rated.filter((m) => m.workMs >= LEAST_MS).sort((a, b) => b.formStops - a.formStops).slice(0, SHOWN).sort((a, b) => (a.name < b.name ? -1 : 1));
  const most = Math.max(all.rate * 2, ...drawn.map((m) => Math.min(m.high, m.rate * 2 + all.rate)));
  return (
    <Finding
      question={question}
      answer={<>{count(stops, 'time', 'times')} in {hours(workMs)} of work: {number(all.rate)} an hour over all moves. {sure.length === 0 ? 'No move stands out: for each, chance would do.' : `More often than that, and hardly by chance: ${list(sure.map((m) => m.name).slice(0, 6))}${sure.length > 6 ? ` and ${sure.length - 6} more` : ''}. It may be worth another look at how ${sure.length === 1 ? 'it is' : 'they are'} shown.`}</>}
      table={{
        caption: 'Stops for form by move, with the exact 95 % Poisson interval', head: ['Move', 'Stops', 'Work', 'An hour', 'From', 'To'],
        rows: rated.map((m) => [m.name, String(m.formStops), hours(m.workMs), number(m.rate), number(m.low), number(m.high)]),
      }}
      source={['rate']}
    >
      <Lines
        unit="stops in an hour of work" label="Stops for form in an hour of work by move, with intervals; the numbers are in the table" most={most}
        all={all.rate}
        lines={drawn.map((m) => ({ name: m.name, low: m.low, high: m.high, mark: m.rate, words: `${m.formStops} in ${hours(m.workMs)}`, told: sure.includes(m) }))}
      />
      <p className="chart-key"><span><i className="key-mark" />in this time</span><span><i className="key-line" />where it may truly lie</span><span><i className="key-aim" />all moves together</span>{rated.length > drawn.length && <span>those with most stops; all are in the table</span>}</p>
    </Finding>
  );
}

export function Load({ review: { weeks, held } }: { review: Review }) {
  const rated = weeks.reduce((n, w) => n + w.rated, 0);
  const question = 'What does it ask of somebody who comes to all of it?';
  if (rated === 0) return <Finding question={question} answer={`No class had three answers to "How hard was that?". The screen asks at the end, with a code to scan.`} source={['load', 'monotony']} />;
  const known = weeks.filter((w) => w.rated > 0);
  const load = known.reduce((sum, w) => sum + w.load, 0) / known.length;
  const heaviest = known.reduce((most, w) => (w.load > most.load ? w : most));
  return (
    <Finding
      question={question}
      answer={<>A load of {number(load, 0)} a week on average, {number(heaviest.load, 0)} in the week of {longDay(heaviest.monday)}, from the {classes(rated)} of {number(held)} that had three answers or more. Choose one plan or one time of the week above: few come to everything.</>}
      table={{
        caption: 'Load by week, after Foster', head: ['Week of', 'Rated classes', 'Load', 'Monotony', 'Strain'],
        rows: weeks.map((w) => [longDay(w.monday), `${w.rated} of ${w.held}`, w.rated === 0 ? null : number(w.load, 0), w.monotony === null ? (w.rated === 0 ? null : 'not defined') : number(w.monotony, 2), w.strain === null ? (w.rated === 0 ? null : 'not defined') : number(w.strain, 0)]),
      }}
      source={['load', 'monotony']}
    >
      <Weeks unit="load" label="Load by week; the numbers are in the table" bars={known.map((w) => ({ monday: w.monday, whole: w.load, part: null }))} />
    </Finding>
  );
}

const minutesOf = (w: ReviewWeek) => againstGuidelines({ moderateMin: w.moderateMs / MINUTE_MS, vigorousMin: w.vigorousMs / MINUTE_MS, muscleDays: w.muscleDays, balanceDays: w.balanceDays });

export function WeeklyActivity({ review: { weeks } }: { review: Review }) {
  const question = 'Does a week of it come to what is recommended?';
  if (weeks.length === 0) return null;
  const against = weeks.map((w) => ({ week: w, ...minutesOf(w) }));
  const mean = against.reduce((sum, a) => sum + a.minutes, 0) / against.length;
  const reached = against.filter((a) => a.minutes >= WEEK_MINUTES.least).length;
  const muscle = against.filter((a) => a.muscle).length;
  const kcal = kcalRange(weeks.reduce((sum, w) => sum + w.kcalPerKg, 0) / weeks.length);
  return (
    <Finding
      question={question}
      answer={<>Who comes to all that is chosen here works {number(mean, 0)} minutes a week that count, of the {WEEK_MINUTES.least} that WHO and the US ask for at least; {reached === 0 ? 'no week reaches' : `${number(reached)} of ${number(weeks.length)} weeks reach`} that{mean < WEEK_MINUTES.least ? `, and on average ${number(WEEK_MINUTES.least - mean, 0)} minutes are left to find elsewhere` : ''}. Muscles work on {MUSCLE_DAYS} days or more in {muscle === weeks.length ? 'every week' : `${number(muscle)} of them`}. Energy: {number(kcal.low, 0)} to {number(kcal.high, 0)} kcal a week, from 50 to 100 kg of body.</>}
      table={{
        caption: 'Activity by week', head: ['Week of', 'Moderate', 'Vigorous', 'Minutes that count', 'Days with muscle work', 'Days with balance', 'Energy, kcal'],
        rows: against.map(({ week: w, minutes }) => { const e = kcalRange(w.kcalPerKg); return [longDay(w.monday), `${number(w.moderateMs / MINUTE_MS, 0)} min`, `${number(w.vigorousMs / MINUTE_MS, 0)} min`, number(minutes, 0), String(w.muscleDays), String(w.balanceDays), `${number(e.low, 0)} to ${number(e.high, 0)}`]; }),
      }}
      source={['week', 'energy']}
    >
      <Weeks unit="minutes that count" label="Minutes that count by week against the least recommended; the numbers are in the table" bars={against.map((a) => ({ monday: a.week.monday, whole: a.minutes, part: null }))} aim={{ at: WEEK_MINUTES.least, words: `${WEEK_MINUTES.least} minutes` }} />
    </Finding>
  );
}
