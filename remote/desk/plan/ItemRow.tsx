/** Owns one movement in a section: its figure, its name, what its work comes to, and its own fields where it differs. */
import { useState } from 'react';
import { PLAN_LEAST_S, PLAN_MOST_S } from '../../../shared/limits.ts';
import type { Movement } from '../../../shared/movement/movement.ts';
import type { Item, Section } from '../../../shared/plan/plan.ts';
import { Moving } from '../../movements/Moving.tsx';
import { type Edit, inSection, setItem } from './draft.ts';
import type { Choosing } from './Editor.tsx';
import { NumberField, Pick } from './fields.tsx';
import { SortableItem } from './Sortable.tsx';
import { endsList, sidesList, workWords } from './words.ts';

interface Props {
  readonly id: string; readonly item: Item; readonly index: number; readonly section: Section;
  readonly movement: Movement | undefined; readonly edit: Edit; readonly choose: (where: Choosing) => void;
}

export function ItemRow({ id, item, index, section, movement, edit, choose }: Props) {
  const [open, setOpen] = useState(false);
  const name = movement?.name ?? item.movement;
  const set = (fields: Parameters<typeof setItem>[2], field?: string) => edit(setItem(section.id, index, fields), field && `${section.id}.${index}.${field}`);
  const follow = section.way === 'follow-me';
  return (
    <SortableItem id={id} name={name} className="item-row">
      {(grip) => (
        <>
          <div className="item-line">
            {grip}
            <button type="button" className="item-figure" aria-label={`Change ${name} for another`} onClick={() => choose({ section: section.id, item: index })}>
              {movement ? <Moving movement={movement} side="right" sash={movement.sides === 'each'} /> : <span className="stage" />}
            </button>
            <span className="item-name"><b>{name}</b><span>{movement ? workWords(item, section, movement) : 'not in the library; change it'}</span></span>
            <span className="item-tools no-print">
              {!follow && <button type="button" className="link" aria-expanded={open} aria-label={`Fields of ${name}`} onClick={() => setOpen(!open)}>{open ? 'Close' : 'Fields'}</button>}
              <button type="button" className="link" aria-label={`Take ${name} out`} onClick={() => edit(inSection(section.id, (s) => ({ ...s, items: s.items.filter((_, k) => k !== index) })))}>Out</button>
            </span>
          </div>
          {open && (
            <div className="section-numbers more-fields no-print">
              <NumberField label="Work" unit="s" value={item.work} least={PLAN_LEAST_S} most={PLAN_MOST_S} empty={section.work === undefined ? '–' : String(section.work)} set={(n) => set({ work: n }, 'work')} />
              <NumberField label="Rest after" unit="s" value={item.rest} least={0} most={PLAN_MOST_S} empty={String(section.rest ?? 'none')} set={(n) => set({ rest: n }, 'rest')} />
              <Pick<NonNullable<Item['sides']>> label="Sides" value={item.sides ?? ''} list={sidesList} set={(v) => set({ sides: v === '' ? undefined : v })} />
              <Pick<'clock' | 'go'> label="Ends" value={item.ends === 'clock' ? '' : item.ends ?? ''} list={endsList} set={(v) => set({ ends: v === '' ? undefined : v })} />
              <NumberField label="Repetitions" value={item.target?.of === 'reps' ? item.target.n : undefined} least={1} most={200} whole empty="none" set={(n) => set({ target: n === undefined ? undefined : { of: 'reps', n } }, 'reps')} />
              <NumberField label="Breaths" value={item.target?.of === 'breaths' ? item.target.n : undefined} least={1} most={200} whole empty="none" set={(n) => set({ target: n === undefined ? undefined : { of: 'breaths', n } }, 'breaths')} />
              <Pick<'yes' | 'no'> label="Shown first" value={item.show === undefined ? '' : item.show ? 'yes' : 'no'} list={[['', 'as the section says'], ['yes', 'yes'], ['no', 'no']]} set={(v) => set({ show: v === '' ? undefined : v === 'yes' })} />
            </div>
          )}
        </>
      )}
    </SortableItem>
  );
}
