/** Owns the hall as seen from the side: the screen, who stands where, and how far each size of text reaches. */
import { Figure } from '../../../shared/ui/figure/Figure.tsx';
import type { Own } from './own.ts';
import { EYES_STANDING_MM, FRONT_ROW_MM, HEAD_MM, overHeadMm, pictureHeightMm, type Reach } from './reach.ts';
import { useLanguage } from '../../../shared/ui/language.ts';

interface HallPictureProps {
  readonly own: Own;
  readonly reach: Reach;
  /** Pixels of one unit, and units of width that there are. */
  readonly unit: number;
  readonly units: number;
  /** Units of height that the hall may take. */
  readonly most: number;
}

const WALL_MM = 500;
const BEHIND_MM = 900;
const CEILING_MM = 3_000;
/** Units: a line of reach under the floor, and the letters in it. */
const LINE = 6;
const LETTERS = 3.9;

export function HallPicture({ own, reach, unit, units, most }: HallPictureProps) {
  const deepMm = WALL_MM + own.farthestMatMm + BEHIND_MM;
  const topMm = Math.max(CEILING_MM, own.lowerEdgeMm + pictureHeightMm(own.diagonalInch) + 200);
  /** A hall that is short is drawn no higher than there is room. */
  const mm = Math.min(units / deepMm, most / topMm);
  const x = (distance: number): number => (WALL_MM + distance) * mm;
  const floor = topMm * mm;
  const y = (up: number): number => floor - up * mm;
  const wide = deepMm * mm;
  const far = own.farthestMatMm;
  const meets = Math.min(topMm, overHeadMm(EYES_STANDING_MM, far));
  const screenTop = own.lowerEdgeMm + pictureHeightMm(own.diagonalInch);
  const { direction, say: { setUp: say } } = useLanguage();
  const lines = [
    { name: say.words, toMm: reach.wordsMm }, { name: say.seconds, toMm: reach.secondsMm }, { name: say.small, toMm: reach.smallMm },
  ];
  const body = (atMm: number) => (
    <div className="hall-body" style={{ left: `${x(atMm) * unit}px`, bottom: `${(lines.length * LINE + 1) * unit}px` }}>
      <Figure movement={undefined} pose="resting" side="together" atMs={0} height={HEAD_MM * 1.12 * mm * unit} />
    </div>
  );
  return (
    <div className="hall" aria-hidden style={{ width: `${wide * unit}px` }}>
      <svg aria-hidden viewBox={`0 0 ${wide} ${floor + 1 + lines.length * LINE}`} style={{ width: '100%', display: 'block', overflow: 'visible' }}>
        <rect x={x(0) - 0.9} y={0} width={0.9} height={floor} fill="var(--line)" />
        <rect x={x(0)} y={y(screenTop)} width={1.2} height={(screenTop - own.lowerEdgeMm) * mm} fill="var(--ink)" />
        {reach.hiddenStanding > 0 && (
          <rect x={x(0)} y={y(Math.min(meets, screenTop))} width={2.4} height={Math.min(meets - own.lowerEdgeMm, screenTop - own.lowerEdgeMm) * mm} fill="var(--clay)" />
        )}
        {far > FRONT_ROW_MM && <path d={`M${x(far)} ${y(EYES_STANDING_MM)}L${x(0)} ${y(meets)}`} stroke="var(--clay)" strokeWidth={0.5} strokeDasharray="1.6 1.2" fill="none" />}
        <rect x={0} y={floor} width={wide} height={1} fill="var(--line)" />
        {lines.map(({ name, toMm }, k) => (
          <g key={name} transform={`translate(0 ${floor + 1 + k * LINE})`}>
            <rect x={x(0)} y={1} width={Math.max(0, Math.min(wide, x(toMm)) - x(0))} height={LINE - 1.4} fill="var(--board-3)" />
            <text x={x(0) + 1} y={LINE - 1.7} fontSize={LETTERS} fontWeight={640} fill="var(--ink)" textAnchor={direction === 'rtl' ? 'end' : 'start'}>{`${name} ${say.metres(toMm / 1_000)}`}</text>
          </g>
        ))}
      </svg>
      {far > FRONT_ROW_MM && body(FRONT_ROW_MM)}
      {body(far)}
    </div>
  );
}
