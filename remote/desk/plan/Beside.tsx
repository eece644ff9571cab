/** Owns what stands beside a plan while it is written: the floor to scale, what it comes to, whether it fits, and what the coach says. */
import { useDeferredValue, useMemo, useState } from 'react';
import { sums } from '../../../shared/coach/sums.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { compile } from '../../../shared/plan/compile.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { Floor } from '../../../shared/ui/Floor.tsx';
import { floorOf } from '../../../shared/view/floor.ts';
import { sectionName } from '../../../shared/view/words.ts';
import { libraryOf } from '../../common/library.ts';
import { Coach } from './Coach.tsx';
import type { Edit } from './draft.ts';
import { FitPart } from './FitPart.tsx';
import { clockWords } from './words.ts';

interface Props { readonly plan: Plan; readonly ready: Plan | null; readonly library: Library; readonly edit: Edit }

export function Beside({ plan, ready, library, edit }: Props) {
  // The newest plan that can be added up; typing goes before it.
  const looked = useDeferredValue(ready);
  const facts = useMemo(() => libraryOf([...library.values()]).facts, [library]);
  const floor = useMemo(() => (looked ? floorOf({ intervals: compile(looked, facts).intervals }) : null), [looked, facts]);
  const sum = useMemo(() => (looked ? sums(looked, library) : null), [looked, library]);
  const [all, setAll] = useState(false);
  if (!looked || !sum || !floor) return <aside className="beside"><p className="told">There is nothing to add up yet: give a section its moves.</p></aside>;
  const slotMs = (plan.slot ?? 0) * 1_000;
  const over = sum.fits ? -sum.fits.spareMs : 0;
  const names = new Map(plan.sections.map((s) => [s.id, sectionName(s)]));
  const bars = (list: readonly { readonly ms: number }[], name: (k: number) => string) => (
    <ul className="bars">{list.slice(0, all ? 20 : 6).map((x, k) => <li key={name(k)}><span>{name(k)}</span><i style={{ width: `${(x.ms / Math.max(1, list[0]?.ms ?? 1)) * 100}%` }} aria-hidden="true" /><b>{clockWords(x.ms)}</b></li>)}</ul>
  );
  return (
    <aside className="beside" id="comes-to" aria-label="What it comes to">
      <a className="at-hand no-print" href="#comes-to"><b>{clockWords(sum.lengthMs)}</b>{sum.fits ? <span data-fits={over <= 0}>{over > 0 ? `${clockWords(over)} over` : `${clockWords(-over)} to spare`}</span> : null}</a>
      <section className="floor-of-plan">
        <p className="length-line"><b className="big-length">{clockWords(sum.lengthMs)}</b>
          {sum.fits && <span className="fits" data-fits={over <= 0} role="status">{over > 0 ? `${clockWords(over)} over the slot of ${slotMs / 60_000} min` : over === 0 ? `fills the slot of ${slotMs / 60_000} min` : `fits ${slotMs / 60_000} min, ${clockWords(-over)} to spare`}</span>}
        </p>
        <div className="floor-strip"><Floor floor={floor} atMs={0} notch={false} overrunMs={0} />
          {sum.fits && over > 0 && <i className="slot-end" style={{ left: `${(slotMs / sum.lengthMs) * 100}%` }} title="the end of the slot" />}
        </div>
        <ol className="floor-names">{sum.sections.map((s) => <li key={s.id} style={{ flexGrow: s.lengthMs }}><span>{names.get(s.id)}</span> <b>{clockWords(s.lengthMs)}</b></li>)}</ol>
      </section>
      <FitPart plan={looked} library={library} edit={edit} lengthMs={sum.lengthMs} />
      <Coach plan={plan} ready={looked} library={library} edit={edit} />
      <section className="sums">
        <h2>What it comes to</h2>
        <dl>
          <div><dt>Work</dt><dd>{clockWords(sum.workMs)}</dd></div>
          <div><dt>Rest</dt><dd>{clockWords(sum.restMs)}</dd></div>
          <div><dt>Getting into place</dt><dd>{clockWords(sum.moveMs)}</dd></div>
          <div><dt>Shows, about</dt><dd>{clockWords(sum.showMs)}</dd></div>
          <div><dt>Talk, about</dt><dd>{clockWords(sum.talkMs)}</dd></div>
          {sum.workToRest !== null && <div><dt>Work to rest</dt><dd>{sum.workToRest.toFixed(1)} : 1</dd></div>}
          {(sum.leftMs > 0 || sum.rightMs > 0) && <div><dt>Left, right</dt><dd>{clockWords(sum.leftMs)}, {clockWords(sum.rightMs)}</dd></div>}
        </dl>
        <p>{sum.words.intensity}</p>
        <p>{sum.words.energy}</p>
        <div className="two-bars"><div><h3>By area</h3>{bars(sum.byArea, (k) => sum.byArea[k]?.area ?? '')}</div><div><h3>By pattern</h3>{bars(sum.byPattern, (k) => sum.byPattern[k]?.pattern ?? '')}</div></div>
        <p className="no-print"><button type="button" className="link" onClick={() => setAll(!all)}>{all ? 'Fewer' : 'All of them, and where the figures come from'}</button></p>
        {all && <p className="quiet-words">{sum.words.source}</p>}
      </section>
    </aside>
  );
}
