/** Owns the answers about how much was held, lateness, cuts and shows: sentences, pictures and tables from one review. */
import type { Review } from '../../../shared/wire/review.ts';
import { Finding } from './Finding.tsx';
import { Lines } from './Lines.tsx';
import { about, classes, count, hours, inText, list, longDay, number, part } from './say.ts';
import { Shares } from './Shares.tsx';
import { Spreads } from './Spreads.tsx';
import { Weeks } from './Weeks.tsx';

const HOUR_MS = 3_600_000;
const sectionWords = { welcome: 'Welcome', 'warm-up': 'Warm-up', main: 'Main', 'cool-down': 'Cool-down', 'clear-up': 'Clear up' } as const;

export function HowMuch({ review: r }: { review: Review }) {
  const total = r.weeks.reduce((s, w) => ({ total: s.total + w.totalMs, work: s.work + w.workMs, move: s.move + w.moveMs }), { total: 0, work: 0, move: 0 });
  const move = r.movement?.name;
  return (
    <Finding
      question="How much was held?"
      answer={<>{classes(r.held)}{move ? ` with ${inText(move)}` : ''} in {count(r.weeks.length, 'week', 'weeks')}: {hours(total.total)} on the floor, {hours(total.work)} of it work{move ? <>, and {hours(total.move)} of that {inText(move)}</> : ''}.</>}
      table={{
        caption: 'By week', head: ['Week of', 'Classes', 'On the floor', 'Work', ...(move ? [move] : []), 'Stops for form'],
        rows: r.weeks.map((w) => [longDay(w.monday), String(w.held), hours(w.totalMs), hours(w.workMs), ...(move ? [hours(w.moveMs)] : []), String(w.formStops)]),
      }}
    >
      <Weeks unit="hours" label={`Hours on the floor and hours of ${move ? inText(move) : 'work'} by week; the numbers are in the table`} bars={r.weeks.map((w) => ({ monday: w.monday, whole: w.totalMs / HOUR_MS, part: (move ? w.moveMs : w.workMs) / HOUR_MS }))} />
      <p className="chart-key"><span><i className="key-outline" />on the floor</span><span><i className="key-clay" />{move ? inText(move) : 'work'}</span></p>
    </Finding>
  );
}

export function Late({ review: { lateStart: s, grew: g, held } }: { review: Review }) {
  if (s.of === 0) return <Finding question="Late from the start, or later on the way?" answer="Nobody said when the floor must be free, so nothing is known of it." source={['late']} />;
  const half = (x: typeof s) => (x.medianMs === null ? '' : `, half of those by ${about(x.medianMs)} or more, one in ten by ${about(x.ninetiethMs ?? x.medianMs)} or more`);
  const names = (x: typeof s) => x.bins.map((_, k) => x.firstMin + k);
  const minutes = [...new Set([...names(s), ...names(g)])].sort((a, b) => a - b);
  const at = (x: typeof s, minute: number) => String(x.bins[minute - x.firstMin] ?? 0);
  return (
    <Finding
      question="Late from the start, or later on the way?"
      answer={<>Of {classes(s.of)} with a time for the floor, {s.more === 0 ? 'none' : number(s.more)} began more than a minute late{half(s)}. {g.more === 0 ? 'None' : number(g.more)} came to be later by more than a minute on the way{half(g)}.{held > s.of ? ` Of ${classes(held - s.of)} nobody said when the floor must be free.` : ''}</>}
      table={{ caption: 'Classes by minutes', head: ['Minutes', 'Late from the start', 'Later on the way'], rows: minutes.map((m) => [m === minutes.at(-1) ? `${m} and more` : m === minutes[0] ? `below ${m + 1}` : `${m} to ${m + 1}`, at(s, m), at(g, m)]) }}
      source={['late']}
    >
      <Spreads start={s} grew={g} />
    </Finding>
  );
}

export function Cuts({ review: { cuts, movement } }: { review: Review }) {
  const sections = cuts.sections.filter((c) => c.plannedMs > 0).sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind));
  const most = [...sections].sort((a, b) => b.ms / b.plannedMs - a.ms / a.plannedMs)[0];
  const moves = cuts.moves.slice(0, 3).map((m) => m.name);
  const one = movement?.name;
  if (cuts.classes === 0 || !most) return <Finding question="What is left out when a class is late?" answer="No class was late." />;
  return (
    <Finding
      question="What is left out when a class is late?"
      answer={<>{classes(cuts.classes)} {cuts.classes === 1 ? 'was' : 'were'} late at some time. {most.ms < 1_000 ? 'Nothing was left out of them.' : <>Most is left out of {sectionWords[most.kind].toLowerCase()}: {part(most.ms, most.plannedMs)} of its work.{moves.length > 0 ? ` ${one ? `Of ${inText(one)} it is ${about(cuts.moves[0]?.ms ?? 0)}, in ${classes(cuts.moves[0]?.classes ?? 0)}.` : `Of the moves it is ${list(moves)}.`}` : ''}</>}</>}
      table={{
        caption: 'Work left out of late classes', head: ['Section or move', 'Left out', 'In classes'],
        rows: [...sections.map((c) => [sectionWords[c.kind], about(c.ms), null]), ...cuts.moves.map((m) => [m.name, about(m.ms), String(m.classes)])],
      }}
    >
      <Shares label="Work left out by section; the numbers are in the table" shares={sections.map((c) => ({ name: sectionWords[c.kind], part: c.ms, whole: c.plannedMs, words: `${part(c.ms, c.plannedMs)} of ${hours(c.plannedMs)}` }))} />
      <p className="chart-key"><span><i className="key-outline" />planned work</span><span><i className="key-clay" />left out</span></p>
    </Finding>
  );
}
const order = ['welcome', 'warm-up', 'main', 'cool-down', 'clear-up'];

const SHOWN = 24;
export function Shows({ review: { moves } }: { review: Review }) {
  const shown = moves.filter((m) => m.shows > 0);
  const planned = shown.reduce((sum, m) => sum + m.showPlannedMs, 0);
  const real = shown.reduce((sum, m) => sum + m.showRealMs, 0);
  if (shown.length === 0) return <Finding question="How long do shows take?" answer="No show was ended by go." source={['shows']} />;
  const longest = [...shown].sort((a, b) => b.showRealMs / b.shows - b.showPlannedMs / b.shows - (a.showRealMs / a.shows - a.showPlannedMs / a.shows)).slice(0, SHOWN).sort((a, b) => (a.name < b.name ? -1 : 1));
  const farthest = [...shown].sort((a, b) => b.showRealMs / b.shows / (b.showPlannedMs / b.shows) - a.showRealMs / a.shows / (a.showPlannedMs / a.shows))[0];
  const ms = (m: (typeof shown)[number]) => ({ planned: m.showPlannedMs / m.shows / 1_000, real: m.showRealMs / m.shows / 1_000 });
  return (
    <Finding
      question="How long do shows take?"
      answer={<>{count(shown.reduce((n, m) => n + m.shows, 0), 'show', 'shows')} took {number(real / Math.max(1, planned), 2)} times what was planned: {hours(real)} for {hours(planned)}.{farthest ? ` ${farthest.name} takes ${number(ms(farthest).real, 0)} s on average, its plans say ${number(ms(farthest).planned, 0)}.` : ''} What a show usually takes goes into the next class by itself.</>}
      table={{ caption: 'Shows by move', head: ['Move', 'Shows', 'Planned, on average', 'Taken, on average'], rows: shown.map((m) => [m.name, String(m.shows), `${number(ms(m).planned, 0)} s`, `${number(ms(m).real, 0)} s`]) }}
      source={['shows']}
    >
      <Lines
        unit="seconds of one show" label="Planned and real time of shows by move; the numbers are in the table" most={Math.max(...longest.map((m) => Math.max(ms(m).real, ms(m).planned))) * 1.05}
        lines={longest.map((m) => ({ name: m.name, low: Math.min(ms(m).planned, ms(m).real), high: Math.max(ms(m).planned, ms(m).real), mark: ms(m).real, hollow: ms(m).planned, words: `${number(ms(m).real, 0)} s`, told: m === farthest }))}
      />
      <p className="chart-key"><span><i className="key-hollow" />planned</span><span><i className="key-mark" />taken</span>{shown.length > SHOWN && <span>the {SHOWN} that differ most; all are in the table</span>}</p>
    </Finding>
  );
}
