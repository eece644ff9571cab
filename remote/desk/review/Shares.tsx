/** Owns bars of parts of a whole, under each other: an outline for what was planned, clay for what was left out of it. Scales are d3's. */
import { scaleLinear } from 'd3-scale';
import { useWidth } from './use-width.ts';

export interface Share { readonly name: string; readonly part: number; readonly whole: number; readonly words: string }

const ROW = 46;

export function Shares({ shares, label }: { shares: readonly Share[]; label: string }) {
  const [place, width] = useWidth();
  const x = scaleLinear().domain([0, Math.max(1, ...shares.map((s) => s.whole))]).range([0, width - 2]);
  const height = shares.length * ROW;
  return (
    <div className="chart" ref={place}>
      <svg viewBox={`0 0 ${width} ${height}`} height={height} role="img" aria-label={label}>
        {shares.map((s, k) => (
          <g key={s.name} transform={`translate(1 ${k * ROW})`}>
            <text className="chart-name" y={15}>{s.name}</text>
            <text className="chart-number" x={width - 2} y={15} textAnchor="end">{s.words}</text>
            <rect className="chart-outline" y={21} width={x(s.whole)} height={16} />
            <rect className="chart-clay" y={21} width={x(s.part)} height={16} />
          </g>
        ))}
      </svg>
    </div>
  );
}
