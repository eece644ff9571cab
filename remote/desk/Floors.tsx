/** Owns the two floors, plan above and fact below, to one scale: where they part is where the class left the plan. */
import type { Interval } from '../../shared/plan/interval.ts';
import type { Report, WalkedBoard } from '../../shared/view/report.ts';
import { lengthWords, sectionName } from '../../shared/view/words.ts';
import { Joined } from './review/Joined.tsx';

const pct = (part: number, whole: number): string => `${(part / Math.max(1, whole)) * 100}%`;

type Tone = Interval['kind'] | 'paused' | 'count-in';
interface Board { readonly key: string; readonly tone: Tone; readonly startMs: number; readonly lengthMs: number }

const factBoards = (walked: readonly WalkedBoard[]): Board[] =>
  walked.map((b) => ({ key: `${b.startMs}`, tone: b.what === 'interval' ? b.kind : b.what, startMs: b.startMs, lengthMs: b.lengthMs }));

const planBoards = (r: Report): Board[] =>
  r.rows.flatMap(({ interval, planned }) => (planned ? [{ key: interval.id, tone: interval.kind, ...planned }] : []));

function Floor({ boards, wholeMs, label }: { boards: readonly Board[]; wholeMs: number; label: string }) {
  return (
    <div className="floor-row">
      <span>{label}</span>
      <div className="long-floor" aria-hidden="true"><Boards boards={boards} wholeMs={wholeMs} /></div>
    </div>
  );
}

const Boards = ({ boards, wholeMs }: { boards: readonly Board[]; wholeMs: number }) =>
  boards.map((b) => <i key={b.key} data-tone={b.tone} style={{ left: pct(b.startMs, wholeMs), width: pct(b.lengthMs, wholeMs) }} />);

/** The floor as it was walked, alone. */
export const FactFloor = ({ report: r }: { report: Report }) => <Boards boards={factBoards(r.walked)} wholeMs={r.totalMs} />;

const legend: readonly (readonly [Tone, string])[] = [
  ['work', 'work'], ['set-up', 'set-up, other side'], ['rest', 'rest'], ['show', 'show'], ['talk', 'talk'], ['count-in', 'count-in'], ['paused', 'paused'],
];

/** Where the sections begin in the plan, for the names above the floor. */
function sectionsOf(r: Report): { name: string; startMs: number; lengthMs: number }[] {
  return r.session.plan.sections.map((section, k) => {
    const own = r.rows.filter((x) => x.interval.section === k && x.planned);
    const startMs = own[0]?.planned?.startMs ?? 0;
    const lengthMs = own.reduce((sum, x) => sum + (x.planned?.lengthMs ?? 0), 0);
    return { name: sectionName(section), startMs, lengthMs };
  });
}

export function Floors({ report: r }: { report: Report }) {
  const wholeMs = Math.max(r.plannedMs, r.totalMs);
  return (
    <div className="floors">
      <div className="floor-row names"><span /><div>{sectionsOf(r).filter((s) => s.lengthMs / wholeMs > 0.08).map((s) => <b key={s.startMs} style={{ left: pct(s.startMs, wholeMs), width: pct(s.lengthMs, wholeMs) }}>{s.name}</b>)}</div></div>
      <Floor boards={planBoards(r)} wholeMs={wholeMs} label={`Plan, ${lengthWords(r.plannedMs)}`} />
      <div className="floor-row"><span /><Joined report={r} /></div>
      <Floor boards={factBoards(r.walked)} wholeMs={wholeMs} label={`Fact, ${lengthWords(r.totalMs)}`} />
      <p className="legend">{legend.map(([tone, word]) => <span key={tone}><i data-tone={tone} aria-hidden="true" />{word}</span>)}</p>
    </div>
  );
}
