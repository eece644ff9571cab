/** Owns the floor on a phone: the plan to scale, walked boards dark, a notch at now, and the floor that sticks out when it is late. */
import { memo } from 'react';
import type { Plank } from './boards.ts';

interface Props {
  readonly planks: readonly Plank[];
  readonly lengthMs: number;
  /** Milliseconds of plan that are walked; null on a floor that nobody walks yet. */
  readonly nowMs: number | null;
  /** How much longer than the end post the class will take; less than 0 leaves it whole. */
  readonly lateMs?: number;
}

const pct = (part: number, whole: number): string => `${(Math.max(0, part) / Math.max(1, whole)) * 100}%`;

const Planks = memo(({ planks, lengthMs }: Pick<Props, 'planks' | 'lengthMs'>) => (
  <>
    {planks.map((p) => (
      <i key={p.id} className="plank" data-grain={p.section % 3} style={{ left: pct(p.startMs, lengthMs), width: pct(p.lengthMs, lengthMs) }} />
    ))}
  </>
));

export function FloorStrip({ planks, lengthMs, nowMs, lateMs = 0 }: Props) {
  const whole = lengthMs + Math.max(0, lateMs);
  return (
    <div className="floor" aria-hidden="true">
      <div className="floor-plan" style={{ width: pct(lengthMs, whole) }}>
        <Planks planks={planks} lengthMs={lengthMs} />
        {nowMs !== null && <i className="walked" style={{ width: pct(nowMs, lengthMs) }} />}
        {nowMs !== null && <i className="notch" style={{ left: pct(nowMs, lengthMs) }} />}
      </div>
      {lateMs > 0 && <i className="late-floor" />}
    </div>
  );
}
