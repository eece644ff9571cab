/**
 * Owns columns by week: an outline for the whole and clay for a part of it, as on the wall
 * filled means work. Weeks without a class keep their place. Scales are d3's.
 */
import { scaleBand, scaleLinear } from 'd3-scale';
import { monthOf, shortDay } from './say.ts';
import { useWidth } from './use-width.ts';

export interface WeekBar {
  readonly monday: number;
  readonly whole: number;
  /** The filled part; null where there is none to tell. */
  readonly part: number | null;
  /** Of how many classes the whole is the mean: weeks laid together are weighed by it. Left out, weeks are added and shared out. */
  readonly of?: number;
}

interface WeeksProps {
  readonly bars: readonly WeekBar[];
  readonly unit: string;
  readonly label: string;
  /** A line that is aimed at, with its words. */
  readonly aim?: { readonly at: number; readonly words: string };
}

const HEIGHT = 250;
const MARGIN = { top: 32, right: 4, bottom: 30, left: 44 };
const WEEK = 7;
/** Columns thinner than this are lines: so many weeks are drawn as one, on average. */
const THIN_PX = 9;
const YEAR_WEEKS = 60;

/** Weeks laid together, a week without a class as nothing. */
function together(bars: readonly WeekBar[], mondays: readonly number[], each: number): WeekBar[] {
  const byMonday = new Map(bars.map((b) => [b.monday, b]));
  const out: WeekBar[] = [];
  for (let k = 0; k < mondays.length; k += each) {
    const some = mondays.slice(k, k + each);
    const sum = (of: (b: WeekBar) => number) => some.reduce((all, monday) => { const b = byMonday.get(monday); return all + (b ? of(b) : 0); }, 0) / some.length;
    const known = some.some((monday) => byMonday.has(monday));
    const of = some.reduce((all, monday) => all + (byMonday.get(monday)?.of ?? 0), 0);
    if (known) out.push({ monday: some[0] ?? 0, whole: of > 0 ? (sum((b) => b.whole * (b.of ?? 0)) * some.length) / of : sum((b) => b.whole), part: bars.some((b) => b.part !== null) ? sum((b) => b.part ?? 0) : null });
  }
  return out;
}

/** Columns that have a name under them, at most: more would touch. */
const NAME_PX = 74;
const MONTH_PX = 120;

export function Weeks({ bars: given, unit, label, aim }: WeeksProps) {
  const [place, width] = useWidth();
  const first = given[0]?.monday ?? 0;
  const last = given.at(-1)?.monday ?? 0;
  const every = Array.from({ length: (last - first) / WEEK + 1 }, (_, k) => first + k * WEEK);
  const weeks = Math.max(1, Math.ceil((THIN_PX * every.length) / Math.max(1, width - MARGIN.left - MARGIN.right)));
  const bars = weeks === 1 ? given : together(given, every, weeks);
  const mondays = every.filter((_, k) => k % weeks === 0);
  const name = every.length > YEAR_WEEKS ? monthOf : shortDay;
  const most = Math.max(aim ? aim.at * 1.12 : 0, ...bars.map((b) => b.whole), 1);
  const x = scaleBand<number>().domain(mondays).range([MARGIN.left, width - MARGIN.right]).paddingInner(mondays.length > 80 ? 0.1 : 0.28);
  const y = scaleLinear().domain([0, most]).nice(4).range([HEIGHT - MARGIN.bottom, MARGIN.top]);
  const each = Math.max(1, Math.ceil((name === monthOf ? MONTH_PX : NAME_PX) / x.step()));
  const wide = Math.min(x.bandwidth(), 64);
  const ground = y(0);
  return (
    <div className="chart" ref={place}>
      <svg viewBox={`0 0 ${width} ${HEIGHT}`} height={HEIGHT} role="img" aria-label={label}>
        {y.ticks(4).map((tick) => (
          <g key={tick} transform={`translate(0 ${y(tick)})`}>
            <line className="chart-grid" x1={MARGIN.left} x2={width - MARGIN.right} />
            <text className="chart-number" x={MARGIN.left - 8} dy="0.35em" textAnchor="end">{tick.toLocaleString('en-GB')}</text>
          </g>
        ))}
        <text className="chart-unit" x={0} y={12}>{unit}{weeks > 1 ? `${given.some((b) => b.of !== undefined) ? '' : ' a week'}, ${weeks} weeks together` : ''}</text>
        {bars.map((b) => {
          const left = (x(b.monday) ?? 0) + (x.bandwidth() - wide) / 2;
          return (
            <g key={b.monday}>
              <rect className={b.part === null ? 'chart-clay' : 'chart-outline'} x={left} y={y(b.whole)} width={wide} height={ground - y(b.whole)} />
              {b.part !== null && <rect className="chart-clay" x={left} y={y(b.part)} width={wide} height={ground - y(b.part)} />}
            </g>
          );
        })}
        {aim && (
          <g transform={`translate(0 ${y(aim.at)})`}>
            <line className="chart-aim" x1={MARGIN.left} x2={width - MARGIN.right} />
            <text className="chart-aim-words" x={width - MARGIN.right} y={-6} textAnchor="end">{aim.words}</text>
          </g>
        )}
        <line className="chart-ground" x1={MARGIN.left} x2={width - MARGIN.right} y1={ground} y2={ground} />
        {mondays.map((monday, k) => (k % each === 0 ? (
          <text key={monday} className="chart-name" x={(x(monday) ?? 0) + x.bandwidth() / 2} y={HEIGHT - 9} textAnchor={k === 0 && x.step() < NAME_PX ? 'start' : width - (x(monday) ?? 0) < NAME_PX / 2 ? 'end' : 'middle'}>{name(monday)}</text>
        ) : null))}
      </svg>
    </div>
  );
}
