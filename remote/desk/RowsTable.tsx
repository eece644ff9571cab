/** Owns plan against fact as a table: each interval with its planned and its real start and length, and what happened. */
import { Fragment } from 'react';
import type { Report, Row } from '../../shared/view/report.ts';
import { intervalWords, markWords } from '../../shared/view/report-words.ts';
import { lengthWords, sectionName } from '../../shared/view/words.ts';

/** Minutes and seconds since the start: "12:05". */
function offset(ms: number): string {
  const s = Math.round(ms / 1_000);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
}

function happened(row: Row): string {
  const held = [
    row.countInMs > 0 ? `${lengthWords(row.countInMs)} count-in` : '',
    row.pausedMs > 0 ? `paused ${lengthWords(row.pausedMs)}` : '',
  ];
  return [...row.marks.map(markWords), ...held].filter(Boolean).join(', ');
}

export function RowsTable({ report: r }: { report: Report }) {
  const total = r.rows.reduce((sum, row) => ({
    own: sum.own + (row.real?.lengthMs ?? 0), countIn: sum.countIn + row.countInMs, paused: sum.paused + row.pausedMs,
  }), { own: 0, countIn: 0, paused: 0 });
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what is wider than the page is moved by keys too
    <section className="scroll" aria-label="Plan against fact" tabIndex={0}>
      <table>
        <thead>
          <tr><th scope="col">What</th><th scope="col">Planned at</th><th scope="col">for</th><th scope="col">Was at</th><th scope="col">for</th><th scope="col">What happened</th></tr>
        </thead>
        <tbody>
          {r.rows.map((row, k) => (
            <Fragment key={row.interval.id}>
              {row.interval.section !== r.rows[k - 1]?.interval.section && (
                <tr className="section"><th colSpan={6} scope="rowgroup">{sectionName(r.session.plan.sections[row.interval.section])}</th></tr>
              )}
              <tr data-kind={row.interval.kind} data-done={row.real !== null}>
                <td>{intervalWords(r.session, row.interval)}{row.interval.kind === 'work' && row.interval.round > 1 ? <small> round {row.interval.round}</small> : null}</td>
                <td>{row.planned ? offset(row.planned.startMs) : ''}</td>
                <td>{row.planned ? `${row.interval.ends === 'go' && row.planned ? 'about ' : ''}${lengthWords(row.planned.lengthMs)}` : ''}</td>
                <td>{row.real ? offset(row.real.startMs) : ''}</td>
                <td>{row.real ? lengthWords(row.real.lengthMs) : ''}</td>
                <td>{happened(row)}</td>
              </tr>
            </Fragment>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <td>All of it</td><td /><td>{lengthWords(r.plannedMs)}</td><td /><td>{lengthWords(r.totalMs)}</td>
            <td>{[`intervals ${lengthWords(total.own)}`, total.countIn ? `count-ins ${lengthWords(total.countIn)}` : '', total.paused ? `pauses ${lengthWords(total.paused)}` : ''].filter(Boolean).join(', ')}</td>
          </tr>
        </tfoot>
      </table>
    </section>
  );
}
