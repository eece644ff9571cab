/** Owns one answer of the review: the question, a sentence, its picture, the numbers as a table, and one tap away how they are worked out. */
import type { ReactNode } from 'react';
import { type SourceName, sources } from '../../../shared/effort/sources.ts';

interface FindingProps {
  readonly question: string;
  readonly answer: ReactNode;
  readonly children?: ReactNode;
  readonly table?: TableProps;
  readonly source?: readonly SourceName[];
}

export function Finding({ question, answer, children, table, source = [] }: FindingProps) {
  return (
    <section className="finding">
      <h2>{question}</h2>
      <p className="finding-says">{answer}</p>
      {children}
      <div className="finding-more">
        {table && table.rows.length > 0 && <details><summary>In numbers</summary><Table {...table} /></details>}
        {source.map((name) => <Worked key={name} name={name} />)}
      </div>
    </section>
  );
}

/** How a figure is worked out, and from whom that is. */
export function Worked({ name }: { name: SourceName }) {
  const { name: title, formula, from, mind } = sources[name];
  return (
    <details className="worked">
      <summary>{title}: how it is worked out</summary>
      <p>{formula}</p>
      <p>{mind}</p>
      <p><cite>{from}</cite></p>
    </details>
  );
}

export interface TableProps {
  readonly caption: string;
  readonly head: readonly string[];
  /** The first cell names the row; null is shown as a dash: nothing is known. */
  readonly rows: readonly (readonly (string | null)[])[];
}

export function Table({ caption, head, rows }: TableProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what is wider than the page is moved by keys too
    <section className="scroll" aria-label={caption} tabIndex={0}>
      <table className="numbers">
        <caption>{caption}</caption>
        <thead><tr>{head.map((name) => <th key={name} scope="col">{name}</th>)}</tr></thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row[0]}>{row.map((cell, k) => (k === 0 ? <th key={head[k]} scope="row">{cell}</th> : <td key={head[k]}>{cell ?? '–'}</td>))}</tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
