/** Owns the page on which a plan is written: its head, its sections, and beside them what it comes to. */
import { useCallback, useEffect, useMemo, useState } from 'react';
import type { Library, Movement } from '../../../shared/movement/movement.ts';
import { sectionKinds } from '../../../shared/plan/plan.ts';
import { sectionName } from '../../../shared/view/words.ts';
import type { KeptBody } from '../../../shared/wire/plans.ts';
import { addSection, inPlan, inSection, moved, moveItem, setItem, useDraft, useRunnable } from './draft.ts';
import { Beside } from './Beside.tsx';
import { Head } from './Head.tsx';
import { Picker } from './Picker.tsx';
import { useSaving } from './saving.ts';
import { SectionPart } from './SectionPart.tsx';
import { Sheet } from './Sheet.tsx';
import { SortableBoard, SortableList } from './Sortable.tsx';
import { Versions } from './Versions.tsx';
import { kindWords } from './words.ts';

/** Where a movement that is chosen goes: after the last of a section, or in the place of one. */
export interface Choosing { readonly section: string; readonly item: number | null }

export function Editor({ kept, library }: { kept: KeptBody; library: Library }) {
  const draft = useDraft(kept.plan);
  const { plan, edit, undo, redo } = draft;
  const keeper = useSaving(kept, plan, edit);
  const [choosing, setChoosing] = useState<Choosing | null>(null);
  const ready = useRunnable(plan);
  const ids = useMemo(() => plan.sections.map((s) => s.id), [plan]);
  const close = useCallback(() => setChoosing(null), []);

  useEffect(() => {
    const keys = (e: KeyboardEvent) => {
      if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== 'z') return;
      const act = e.shiftKey ? redo : undo;
      if (!act) return;
      e.preventDefault();
      act();
    };
    window.addEventListener('keydown', keys);
    return () => window.removeEventListener('keydown', keys);
  }, [undo, redo]);

  const choose = (m: Movement) => {
    if (!choosing) return;
    const { section, item } = choosing;
    if (item === null) edit(inSection(section, (s) => ({ ...s, items: [...s.items, { movement: m.id }] })));
    else {
      edit(setItem(section, item, { movement: m.id }));
      setChoosing(null);
    }
  };
  const section = choosing && plan.sections.find((s) => s.id === choosing.section);
  return (
    <main className="desk plan-page">
      <Head draft={draft} keeper={keeper} own={kept.own} library={library} />
      <div className="plan-columns">
        <div className="plan-sections">
          <SortableBoard
            sections={plan.sections.map((s) => ({ id: s.id, name: sectionName(s), moves: s.items.map((i) => library.get(i.movement)?.name ?? i.movement) }))}
            moveSection={(from, to) => edit((p) => inPlan({ sections: moved(p.sections, from, to) })(p))} moveMove={(from, to) => edit(moveItem(from, to))}
          >
            <SortableList ids={ids} className="section-list">
              {plan.sections.map((s) => <SectionPart key={s.id} section={s} library={library} edit={edit} choose={setChoosing} only={plan.sections.length === 1} />)}
            </SortableList>
          </SortableBoard>
          <p className="add-section">
            <span>Add</span>
            {sectionKinds.map((kind) => <button key={kind} type="button" className="control small" onClick={() => edit(addSection(kind))}>{kindWords[kind]}</button>)}
          </p>
          <Versions id={plan.id} edit={edit} />
        </div>
        <Beside plan={plan} ready={ready} library={library} edit={edit} />
      </div>
      {ready && <Sheet plan={ready} library={library} />}
      {choosing && section && (
        <Picker library={library} section={section} one={choosing.item !== null} choose={choose} close={close} />
      )}
    </main>
  );
}
