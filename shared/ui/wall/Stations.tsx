/** Owns stations: all of them at once, numbered, each with its body; their names where the room can read them. */
import type { Library } from '../../movement/movement.ts';
import type { Session } from '../../session/session.ts';
import { Figure } from '../figure/Figure.tsx';
import { movementName } from '../../view/words.ts';
import { useLanguage } from '../language.ts';
import { usePicture } from './picture.ts';

interface StationsProps {
  readonly movements: readonly string[];
  readonly session: Session;
  readonly library: Library;
  readonly working: boolean;
}

/** Names are read only where few stand under each other. */
const NAMED_MOST = 4;
const NAME_LETTERS = 17;
/** Units: what is left free at the sides, and the height there is below the seconds, where the screen stands upright. */
const EDGE = 4.6;
const TALL = 60;
const FAR_TALL = 34;
/** Units: how far they reach past the middle, and what title, floor and all else take of the height. */
const BESIDE = 18;
const OTHERS = 49;
const FAR_OTHERS = 37;
/** A figure's place is this much wider than high. */
const ASPECT = 1.5;
const MOST = 30;

export function Stations({ movements, session, library, working }: StationsProps) {
  const { unit, width, height, upright, far } = usePicture();
  const language = useLanguage();
  const names = movements.map((id) => movementName(session, id, language));
  const box = upright ? { width: width - 2 * EDGE, height: far ? FAR_TALL : TALL } : far ? { width: width / 2, height: height - FAR_OTHERS } : { width: width / 2 + BESIDE, height: height - OTHERS };
  const named = movements.length <= NAMED_MOST && names.every((name) => name.length <= NAME_LETTERS);
  const columns = named ? 1 : columnsFor(movements.length, box);
  const rowHeight = box.height / Math.ceil(movements.length / columns);
  const size = Math.min(rowHeight, named ? (far ? 9 : 13) : 0.94 * box.width / columns / ASPECT, MOST) * unit;
  return (
    <ol className="stations" data-named={named || undefined} style={{ width: box.width * unit, gridTemplateColumns: `repeat(${columns}, minmax(0, 1fr))`, gridAutoRows: `${rowHeight * unit}px` }}>
      {movements.map((id, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a station is its place; one movement may have two
        <li key={k}>
          <span className="number">{language.number(k + 1)}</span>
          <Figure movement={library.get(id)} pose={working ? 'still' : 'outline'} side="together" atMs={0} height={size} />
          {named && <span className="name">{names[k]}</span>}
        </li>
      ))}
    </ol>
  );
}

/** The columns that leave each body the most room. */
function columnsFor(n: number, box: { width: number; height: number }): number {
  const room = (columns: number) => Math.min(box.height / Math.ceil(n / columns), box.width / columns / ASPECT);
  let best = 1;
  for (let columns = 2; columns <= n; columns += 1) if (room(columns) > room(best)) best = columns;
  return best;
}
