/** Owns changing the class while it runs: rounds, movements, breaks. What could not be taken back asks first. */
import { useState } from 'react';
import type { Movement } from '../../../shared/movement/movement.ts';
import { factsFor } from '../../../shared/plan/facts.ts';
import { type LeftOf, offers } from '../../../shared/session/offers.ts';
import type { Session } from '../../../shared/session/session.ts';
import type { ServerAt } from '../../../shared/time/units.ts';
import { movementName, sectionName } from '../../../shared/view/words.ts';
import type { Library } from '../../common/library.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { Sheet } from './Sheet.tsx';

interface Props {
  readonly session: Session;
  readonly now: ServerAt;
  readonly library: Library;
  readonly taps: Taps;
  readonly onClose: () => void;
}

const NEAREST = 8;

/** Movements that could stand here instead: its option first, then the same pattern, position and no more impact. */
function others(library: Library, of: LeftOf): Movement[] {
  const mine = library.movements.get(of.movement);
  if (!mine) return [];
  const impacts = ['none', 'low', 'high'];
  const near = (m: Movement) => (m.id === mine.option.movement ? 8 : 0) + (m.pattern === mine.pattern ? 4 : 0) + (m.start === mine.start ? 2 : 0) + (m.sides === mine.sides ? 1 : 0);
  return [...library.movements.values()]
    .filter((m) => m.id !== mine.id && impacts.indexOf(m.impact) <= impacts.indexOf(mine.impact) && m.suits.some((s) => mine.suits.includes(s)))
    .sort((a, b) => near(b) - near(a))
    .slice(0, NEAREST);
}

export function Changes({ session, now, library, taps, onClose }: Props) {
  const [open, setOpen] = useState<LeftOf | null>(null);
  const [sure, setSure] = useState(false);
  const can = offers(session, now);
  const say = async (command: Parameters<Taps['tap']>[1] | null) => { if (command && (await taps.tap('change', command))) onClose(); };
  const busy = taps.sending.has('change');
  const place = (section: number) => sectionName(session.plan.sections[section]);
  if (open) {
    return (
      <Sheet title={movementName(session, open.movement)} sentence={taps.sentence} onClose={onClose}>
        <div className="sheet-part">
          <button type="button" className="control" disabled={busy || !open.leaveOut} onClick={() => void say(open.leaveOut)}>Leave out</button>
          <h3>Change for</h3>
          {others(library, open).map((m) => (
            <button key={m.id} type="button" className="control way" disabled={busy} onClick={() => void say({ type: 'change', section: open.section, item: open.item, to: m.id, intervals: [...open.intervals] })}>
              <b>{m.name}</b><span>{m.option.words}</span>
            </button>
          ))}
          <button type="button" className="control" onClick={() => setOpen(null)}>Back</button>
        </div>
      </Sheet>
    );
  }
  if (sure) {
    return (
      <Sheet title="On to the cool-down?" sentence={taps.sentence} onClose={onClose}>
        <p>What lies between is left out. This cannot be taken back.</p>
        <button type="button" className="control strong" disabled={busy} onClick={() => void say(can.toCoolDown)}>On to the cool-down</button>
        <button type="button" className="control" onClick={() => setSure(false)}>Not yet</button>
      </Sheet>
    );
  }
  return (
    <Sheet title="Change the class" sentence={taps.sentence} onClose={onClose}>
      {can.undo && <button type="button" className="control strong" disabled={busy} onClick={() => void say(can.undo?.command ?? null)}>Take back the last change</button>}
      {can.rounds.map((r) => (
        <div key={r.section} className="sheet-part two">
          <h3>{place(r.section)}</h3>
          <button type="button" className="control" disabled={busy || !r.drop} onClick={() => void say(r.drop)}>Drop round {r.last}</button>
          <button type="button" className="control" disabled={busy || !r.add} onClick={() => void say(r.add)}>One more round</button>
        </div>
      ))}
      <div className="sheet-part two">
        <h3>Now</h3>
        <button type="button" className="control" disabled={busy || !can.water} onClick={() => void say(can.water)}>Water break</button>
        <button type="button" className="control" disabled={busy || !can.rest} onClick={() => void say(can.rest)}>Put in a rest</button>
        <button type="button" className="control" disabled={busy || !can.repeat} onClick={() => void say(can.repeat)}>Repeat the last move</button>
        <button type="button" className="control" disabled={busy || !can.lengthenShow} onClick={() => void say(can.lengthenShow)}>Longer next show</button>
        <button type="button" className="control" disabled={busy || !can.toCoolDown} onClick={() => setSure(true)}>On to the cool-down</button>
      </div>
      <div className="sheet-part">
        <h3>Leave out or change</h3>
        {can.movements.map((m) => (
          <button key={`${m.section}-${m.item}`} type="button" className="control" onClick={() => setOpen(m)}>
            {factsFor(session.facts, m.movement).name}
          </button>
        ))}
      </div>
    </Sheet>
  );
}
