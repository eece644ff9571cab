/** Owns one plan before it starts: its floor, its sections and moves, when the floor must be free, who teaches, the usual cautions. */
import { useEffect, useMemo } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { compile } from '../../../shared/plan/compile.ts';
import { factsFor } from '../../../shared/plan/facts.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { totals } from '../../../shared/plan/totals.ts';
import { Floor } from '../../../shared/ui/Floor.tsx';
import { floorOf } from '../../../shared/view/floor.ts';
import { sectionName } from '../../../shared/view/words.ts';
import { planBodySchema, type PlanSummary } from '../../../shared/wire/http.ts';
import type { Library } from '../../common/library.ts';
import { minutes, rehearsalOf, sectionWords } from '../../common/plan-words.ts';
import { useGet } from '../../common/use-get.ts';
import { useKeys } from '../hooks/use-keys.ts';
import { useTaps } from '../hooks/use-taps.ts';
import { type Free, FreeAt, freeAtOf } from './FreeAt.tsx';
import { ForCover } from './ForCover.tsx';
import { Shows } from './Shows.tsx';
import { Teaches } from './Teaches.tsx';
import { useLabel } from './use-label.ts';

interface Props {
  readonly room: Room;
  readonly library: Library;
  readonly summary: PlanSummary;
  readonly free: Free;
  readonly onFree: (free: Free) => void;
  readonly onBack: () => void;
}

export function PlanPage({ room, library, summary, free, onFree, onBack }: Props) {
  const [got] = useGet(`/api/plans/${encodeURIComponent(summary.id)}`, planBodySchema);
  const [label, keepLabel] = useLabel();
  const taps = useTaps(room);
  const start = () => {
    const now = room.now();
    const timeZone = room.about?.studio.timeZone ?? 'UTC';
    if (now === null) taps.say('The studio\'s clock is not known yet. Wait a moment, then press again.');
    else void taps.tap('start', { type: 'start', plan: summary.id, freeAt: freeAtOf(free, timeZone, now), ...(label === '' ? {} : { instructor: label }) });
  };
  useKeys(start);
  const { choose } = room;
  const live = room.link.state === 'live';
  // The screen shows what is laid out, while it is; a class that starts takes its place.
  useEffect(() => {
    if (!live) return;
    choose(summary.id);
    return () => choose(null);
  }, [choose, live, summary.id]);
  return (
    <>
      <section className="page-body">
        <button type="button" className="back" onClick={onBack}>Other classes</button>
        <h2>{summary.name}<small>{minutes(summary.lengthMs)}</small></h2>
        {got && 'problem' in got && <p className="sentence" role="alert">{got.problem}</p>}
        {got && 'ok' in got && <PlanSight plan={got.ok} library={library} />}
        {got && 'ok' in got && <Shows plan={got.ok} library={library} label={label} />}
        <p className="quiet-words"><a href={rehearsalOf(summary.id)}>Rehearse</a> it on this device, ten times as fast. Nothing is logged.</p>
        <FreeAt free={free} onChoose={onFree} />
        <ForCover plan={summary.id} />
        <Teaches label={label} onLabel={keepLabel} />
        <p className="cautions">Pain, dizziness or short of breath: stop. New, pregnant or unwell: ask first. You and the rules of your studio decide; the screen gives no medical advice.</p>
      </section>
      <div className="foot">
        {taps.sentence && <p className="sentence" role="alert">{taps.sentence}</p>}
        <button type="button" className="big" data-does="go" data-state={taps.sending.has('start') ? 'sending' : 'ready'} onClick={start}><span className="big-word">Start</span></button>
      </div>
    </>
  );
}

/** A plan as its floor and its sections. */
export function PlanSight({ plan, library }: { plan: Plan; library: Library }) {
  const intervals = useMemo(() => compile(plan, library.facts).intervals, [plan, library]);
  const floor = useMemo(() => floorOf({ intervals }), [intervals]);
  return (
    <>
      {plan.note && <p className="quiet-words">{plan.note}</p>}
      <div className="floor-strip"><Floor floor={floor} atMs={0} notch={false} /></div>
      <ol className="sections">
        {plan.sections.map((section, k) => (
          <li key={section.id}>
            <h3>{sectionName(section)}<small>{[minutes(totals(intervals.filter((i) => i.section === k)).lengthMs), sectionWords(section)].filter(Boolean).join(', ')}</small></h3>
            {section.items.length > 0 && <p>{section.items.map((item) => factsFor(library.facts, item.movement).name).join(', ')}</p>}
          </li>
        ))}
      </ol>
    </>
  );
}
