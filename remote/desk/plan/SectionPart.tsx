/** Owns one section while it is written: its numbers, its movements in order, and the few fields that hide while they hold their defaults. */
import { useState } from 'react';
import { NAME_MAX, PLAN_LEAST_S, PLAN_MOST_S, ROUNDS_MAX } from '../../../shared/limits.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Section } from '../../../shared/plan/plan.ts';
import { sectionName } from '../../../shared/view/words.ts';
import { copySection, type Edit, setSection } from './draft.ts';
import type { Choosing } from './Editor.tsx';
import { LadderField, NumberField, Pick } from './fields.tsx';
import { ItemRow } from './ItemRow.tsx';
import { moveId, SortableEnd, SortableItem, SortableList } from './Sortable.tsx';
import { kindWords, leadList, showList, sidesList, wayWords } from './words.ts';

interface Props { readonly section: Section; readonly library: Library; readonly edit: Edit; readonly choose: (where: Choosing) => void; readonly only: boolean }

const laddersWords = (s: Section): string => (typeof s.rounds === 'number' ? '' : 'seconds' in s.rounds ? `${s.rounds.seconds.join(' ')} s` : `${s.rounds.reps.join(' ')} reps`);

export function SectionPart({ section: s, library, edit, choose, only }: Props) {
  const unusual = s.sides !== undefined || s.lead !== undefined || s.show !== undefined || !s.lastRest || s.setUp !== undefined || s.name !== undefined || s.way !== 'together';
  const [more, setMore] = useState(false);
  const name = sectionName(s);
  const set = (fields: Parameters<typeof setSection>[1], field?: string) => edit(setSection(s.id, fields), field && `${s.id}.${field}`);
  const talk = s.talk !== undefined;
  const follow = s.way === 'follow-me';
  const rows = s.items.map((_, k) => moveId(s.id, k));
  return (
    <SortableItem id={s.id} name={name} className="section-part" data-kind={s.kind}>
      {(grip) => (
        <>
          <header className="section-head">
            {grip}
            <h2>{name}</h2>
            <span className="section-tools no-print">
              {!talk && <button type="button" className="link" aria-expanded={more} onClick={() => setMore(!more)}>{more ? 'Fewer fields' : unusual ? 'More fields (some set)' : 'More fields'}</button>}
              <button type="button" className="link" onClick={() => edit(copySection(s.id))}>Copy</button>
              <button type="button" className="link" disabled={only} onClick={() => edit((p) => ({ ...p, sections: p.sections.filter((x) => x.id !== s.id) }))}>Take out</button>
            </span>
          </header>
          <div className="section-numbers">
            {talk && <NumberField label="About" unit="s" value={s.talk} least={PLAN_LEAST_S} most={PLAN_MOST_S} set={(n) => set({ talk: n ?? s.talk }, 'talk')} />}
            {!talk && typeof s.rounds === 'number' && !(follow && s.rounds === 1) && <NumberField label="Rounds" value={s.rounds} least={1} most={ROUNDS_MAX} whole set={(n) => set({ rounds: n ?? 1 }, 'rounds')} />}
            {!talk && typeof s.rounds !== 'number' && <span className="num"><span>Ladder</span><b>{laddersWords(s)}</b><button type="button" className="link" onClick={() => set({ rounds: 1, work: s.work ?? 30 })}>Plain rounds</button></span>}
            {!talk && <NumberField label={follow ? 'Length' : 'Work'} unit="s" value={s.work} least={PLAN_LEAST_S} most={PLAN_MOST_S} empty={follow ? undefined as never : '–'} set={(n) => set({ work: n }, 'work')} />}
            {!talk && !follow && <NumberField label="Rest" unit="s" value={s.rest} least={0} most={PLAN_MOST_S} empty="none" set={(n) => set({ rest: n }, 'rest')} />}
          </div>
          {more && !talk && (
            <div className="section-numbers more-fields no-print">
              <Pick<Section['way']> label="Taught" value={s.way} list={wayWords} set={(way) => set({ way: way === '' ? 'together' : way, ...(way === 'follow-me' && s.work === undefined ? { work: 240 } : {}) })} />
              {!follow && <LadderField rounds={s.rounds} set={(rounds) => set({ rounds })} />}
              <Pick<NonNullable<Section['sides']>> label="Sides" value={s.sides ?? ''} list={sidesList} set={(v) => set({ sides: v === '' ? undefined : v })} />
              <Pick<NonNullable<Section['lead']>> label="Lead" value={s.lead ?? ''} list={leadList} set={(v) => set({ lead: v === '' ? undefined : v })} />
              <Pick<NonNullable<Section['show']>> label="Shown first" value={s.show ?? ''} list={showList} set={(v) => set({ show: v === '' ? undefined : v })} />
              <NumberField label="A show" unit="s" value={s.showEstimate} least={PLAN_LEAST_S} most={PLAN_MOST_S} set={(n) => set({ showEstimate: n ?? 20 }, 'show')} />
              <NumberField label="Set-up" unit="s" value={s.setUp} least={0} most={PLAN_MOST_S} empty="usual" set={(n) => set({ setUp: n }, 'setUp')} />
              <label className="num"><span>Called</span><input value={s.name ?? ''} placeholder={kindWords[s.kind]} maxLength={NAME_MAX} dir="auto" onChange={(e) => set({ name: e.target.value === '' ? undefined : e.target.value }, 'name')} /></label>
              <label className="check"><input type="checkbox" checked={s.lastRest} onChange={(e) => set({ lastRest: e.target.checked })} /> The rest after the last counts</label>
            </div>
          )}
          {!talk && (
            <SortableList ids={rows} className="item-list">
              {s.items.map((item, k) => <ItemRow key={rows[k]} id={rows[k] ?? ''} item={item} index={k} section={s} movement={library.get(item.movement)} edit={edit} choose={choose} />)}
            </SortableList>
          )}
          {!talk && <SortableEnd section={s.id} className="section-end no-print"><button type="button" className="control small add-item" onClick={() => choose({ section: s.id, item: null })}>{s.items.length === 0 ? 'Choose its moves' : 'Add a move'}</button></SortableEnd>}
        </>
      )}
    </SortableItem>
  );
}
