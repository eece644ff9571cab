/** Owns the band between the two floors: each interval of the plan joined to where it was really done. What was not done runs to a point. */
import type { Report } from '../../../shared/view/report.ts';

/** Units of the picture; it is stretched to its place. */
const WIDE = 1_000;
const HIGH = 34;
/** A shift of less than this is the same place. */
const SAME_MS = 2_000;

export function Joined({ report: r }: { report: Report }) {
  const whole = Math.max(1, r.plannedMs, r.totalMs);
  const x = (ms: number) => ((ms / whole) * WIDE).toFixed(2);
  let lastEnd = 0;
  return (
    <svg className="joined" viewBox={`0 0 ${WIDE} ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
      {r.rows.map(({ interval, planned, real, pausedMs, countInMs }) => {
        if (real) lastEnd = real.startMs + real.lengthMs + pausedMs + countInMs;
        if (!planned || interval.kind !== 'work') return null;
        const [from, to] = real ? [real.startMs, real.startMs + real.lengthMs + pausedMs] : [lastEnd, lastEnd];
        const differs = !real || Math.abs(real.lengthMs - planned.lengthMs) > SAME_MS;
        return <path key={interval.id} data-differs={differs || undefined} vectorEffect="non-scaling-stroke" d={`M${x(planned.startMs)} 0L${x(planned.startMs + planned.lengthMs)} 0L${x(to)} ${HIGH}L${x(from)} ${HIGH}z`} />;
      })}
    </svg>
  );
}
