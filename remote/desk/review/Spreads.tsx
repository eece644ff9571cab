/** Owns two spreads of lateness on one scale of minutes: late from the start above the line, later on the way below it. Scales are d3's. */
import { scaleBand, scaleLinear } from 'd3-scale';
import type { Spread } from '../../../shared/wire/review.ts';
import { useWidth } from './use-width.ts';

const HALF = 120;
const MARGIN = { top: 26, right: 8, bottom: 26, left: 8 };
const AXIS = 34;

export function Spreads({ start, grew }: { start: Spread; grew: Spread }) {
  const [place, width] = useWidth();
  const firstMin = Math.min(start.firstMin, grew.firstMin);
  const lastMin = Math.max(start.firstMin + start.bins.length, grew.firstMin + grew.bins.length) - 1;
  const minutes = Array.from({ length: lastMin - firstMin + 1 }, (_, k) => firstMin + k);
  const x = scaleBand<number>().domain(minutes).range([MARGIN.left, width - MARGIN.right]).paddingInner(0.14);
  // Most classes are on time: their bar is torn off, so that the others can be seen.
  const rest = [...start.bins, ...grew.bins].sort((a, b) => b - a);
  const most = Math.max(1, Math.min(rest[0] ?? 1, (rest[1] ?? 1) * 1.6));
  const tall = scaleLinear().domain([0, most]).range([0, HALF - 20]).clamp(true);
  const up = MARGIN.top + HALF;
  const down = up + AXIS;
  const height = down + HALF + MARGIN.bottom;
  const each = x.step() < 30 ? 5 : 1;
  const bars = (s: Spread, below: boolean) => s.bins.map((n, k) => {
    const minute = s.firstMin + k;
    const h = n === 0 ? 0 : Math.max(2, tall(n));
    const left = x(minute) ?? 0;
    return (
      <g key={minute}>
        <rect className={minute >= 1 ? 'chart-clay' : 'chart-outline'} x={left} y={below ? down : up - h} width={x.bandwidth()} height={h} />
        {n > most && <path className="chart-torn" d={`M${left - 3} ${(below ? down + h : up - h) + (below ? -22 : 22)}l${(x.bandwidth() + 6) / 2} -7v8l${(x.bandwidth() + 6) / 2} -7`} />}
        {n > 0 && x.bandwidth() >= 22 && <text className="chart-number" x={left + x.bandwidth() / 2} y={below ? down + h + 15 : up - h - 5} textAnchor="middle">{n}</text>}
      </g>
    );
  });
  return (
    <div className="chart" ref={place}>
      <svg viewBox={`0 0 ${width} ${height}`} height={height} role="img" aria-label="How many classes were late by how many minutes, from the start and on the way; the numbers are in the table">
        <text className="chart-side" x={width - MARGIN.right} y={16} textAnchor="end">late from the start</text>
        {bars(start, false)}
        <line className="chart-ground" x1={MARGIN.left} x2={width - MARGIN.right} y1={up} y2={up} />
        {minutes.map((minute) => (minute % each === 0 ? (
          <text key={minute} className="chart-name" x={(x(minute) ?? 0) + x.bandwidth() / 2} y={up + AXIS / 2 + 5} textAnchor="middle">{nameOf(minute, firstMin, lastMin)}</text>
        ) : null))}
        <line className="chart-ground" x1={MARGIN.left} x2={width - MARGIN.right} y1={down} y2={down} />
        {bars(grew, true)}
        <text className="chart-side" x={width - MARGIN.right} y={height - 8} textAnchor="end">later on the way; under 0 time was won back</text>
      </svg>
    </div>
  );
}

/** "3" is from three minutes to less than four. */
const nameOf = (minute: number, first: number, last: number): string => (minute === last ? `${minute}+` : minute === first ? `< ${minute + 1}` : minute === 0 ? '0 min' : String(minute));
