/**
 * Owns rows of moves on one scale: a mark with its line of what is not known (a rate and its
 * interval), or two marks joined (planned and real). Hollow is the plan, filled the fact.
 * Rows stand in the order of their names; a scale of d3's.
 */
import { scaleLinear } from 'd3-scale';
import { useWidth } from './use-width.ts';

export interface Line {
  readonly name: string;
  readonly low: number;
  readonly high: number;
  readonly mark: number;
  /** The planned one, where there is one. */
  readonly hollow?: number;
  readonly words: string;
  /** Whether this one is spoken of above. */
  readonly told: boolean;
}

interface LinesProps {
  readonly lines: readonly Line[];
  readonly unit: string;
  readonly label: string;
  /** A value that all are held against. */
  readonly all?: number;
  /** The end of the scale; longer lines run out of the picture. */
  readonly most: number;
}

const ROW = 28;
const TOP = 46;
const NAMES = { wide: 190, narrow: 0 };
const WORDS = 92;

export function Lines({ lines, unit, label, all, most }: LinesProps) {
  const [place, width] = useWidth();
  const narrow = width < 560;
  const left = narrow ? 4 : NAMES.wide;
  const row = narrow ? ROW * 1.7 : ROW;
  const x = scaleLinear().domain([0, most]).nice(4).range([left, width - WORDS]);
  const end = x.range()[1] ?? width;
  const at = (v: number) => Math.min(end, x(v));
  const height = TOP + lines.length * row + 8;
  return (
    <div className="chart" ref={place}>
      <svg viewBox={`0 0 ${width} ${height}`} height={height} role="img" aria-label={label}>
        {x.ticks(narrow ? 3 : 6).map((tick) => (
          <g key={tick} transform={`translate(${x(tick)} 0)`}>
            <line className="chart-grid" y1={TOP - 6} y2={height - 4} />
            <text className="chart-number" y={TOP - 12} textAnchor="middle">{tick.toLocaleString('en-GB')}</text>
          </g>
        ))}
        <text className="chart-unit" x={left} y={14}>{unit}</text>
        {all !== undefined && <line className="chart-aim" x1={x(all)} x2={x(all)} y1={TOP - 6} y2={height - 4} />}
        {lines.map((l, k) => {
          const y = TOP + k * row + row / 2 + (narrow ? 8 : 0);
          return (
            <g key={l.name} className="chart-row" data-told={l.told || undefined}>
              {narrow ? <text className="chart-name" x={left} y={y - 13}>{l.name}</text> : <text className="chart-name" x={left - 14} y={y} dy="0.35em" textAnchor="end">{l.name}</text>}
              <line className="chart-line" x1={at(l.low)} x2={at(l.high)} y1={y} y2={y} />
              {l.high > (x.domain()[1] ?? most) && <path className="chart-mark" d={`M${end} ${y - 5}l7 5l-7 5z`} />}
              {l.hollow !== undefined && <circle className="chart-hollow" cx={at(l.hollow)} cy={y} r={6} />}
              <circle className="chart-mark" cx={at(l.mark)} cy={y} r={6} />
              <text className="chart-number" x={width} y={y} dy="0.35em" textAnchor="end">{l.words}</text>
            </g>
          );
        })}
      </svg>
    </div>
  );
}
