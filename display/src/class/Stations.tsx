/** Owns stations: all of them at once, numbered, each with its body; their names where the room can read them. */
import type { Library } from '../../../shared/movement/movement.ts';
import type { Session } from '../../../shared/session/session.ts';
import { Figure } from '../../../shared/ui/figure/Figure.tsx';
import { movementName } from '../../../shared/view/words.ts';

interface StationsProps {
  readonly movements: readonly string[];
  readonly session: Session;
  readonly library: Library;
  readonly working: boolean;
  readonly unit: number;
}

/** Names are read only where few stand under each other. */
const NAMED_MOST = 4;
const NAME_LETTERS = 17;
/** Units of room that all of them have together. */
const WIDTH = 106;
const HEIGHT = 50;
/** A figure's place is this much wider than high. */
const ASPECT = 1.5;

export function Stations({ movements, session, library, working, unit }: StationsProps) {
  const named = movements.length <= NAMED_MOST && movements.every((id) => movementName(session, id).length <= NAME_LETTERS);
  const columns = named ? 1 : columnsFor(movements.length);
  const rowHeight = HEIGHT / Math.ceil(movements.length / columns);
  const height = Math.min(rowHeight, named ? 13 : WIDTH / columns / ASPECT, 30) * unit;
  return (
    <ol className="stations" data-named={named || undefined} style={{ gridTemplateColumns: `repeat(${columns}, 1fr)`, gridAutoRows: `${rowHeight * unit}px` }}>
      {movements.map((id, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a station is its place; one movement may have two
        <li key={k}>
          <span className="number">{k + 1}</span>
          <Figure movement={library.get(id)} pose={working ? 'still' : 'outline'} side="together" atMs={0} height={height} />
          {named && <span className="name">{movementName(session, id)}</span>}
        </li>
      ))}
    </ol>
  );
}

/** The columns that leave each body the most room. */
function columnsFor(n: number): number {
  const room = (columns: number) => Math.min(HEIGHT / Math.ceil(n / columns), WIDTH / columns / ASPECT);
  let best = 1;
  for (let columns = 2; columns <= n; columns += 1) if (room(columns) > room(best)) best = columns;
  return best;
}
