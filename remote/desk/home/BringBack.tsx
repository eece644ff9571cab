/** Owns bringing plans back from home: the file, what became of each plan, and what is taken. The file is read as text and never run. */
import { useRef, useState } from 'react';
import { HOME_FILE_MOST_BYTES } from '../../../shared/limits.ts';
import { type HomeFile, readHome } from '../../../shared/home/file.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { dayWords } from '../day-words.ts';
import { PairHere } from '../plan/PairHere.tsx';
import { bring, look, mayBring, outcome, type Row } from './bring.ts';
import { BroughtRow } from './BroughtRow.tsx';

export function BringBack({ library }: { library: Library }) {
  const chosenFile = useRef<HTMLInputElement>(null);
  const [file, setFile] = useState<HomeFile | null>(null);
  const [rows, setRows] = useState<readonly Row[]>([]);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [pair, setPair] = useState(false);

  const read = async (chosen: File) => {
    setFile(null);
    setRows([]);
    setProblem(null);
    const not = (why: string) => setProblem(`“${chosen.name}” was not brought back. ${why}`);
    if (chosen.size > HOME_FILE_MOST_BYTES) return not(`It has ${Math.ceil(chosen.size / 1_000_000)} MB; ${Math.floor(HOME_FILE_MOST_BYTES / 1_000_000)} MB is the most that a file from home has.`);
    const got = readHome(await chosen.text());
    if ('refused' in got) return not(got.refused);
    setBusy(true);
    const looked: Row[] = [];
    for (const home of got.file.plans) {
      const row = await look(home);
      if ('failed' in row) {
        setBusy(false);
        return not(row.failed);
      }
      looked.push(row);
    }
    setBusy(false);
    setFile(got.file);
    setRows(looked);
  };
  const put = (k: number, row: Row) => setRows((was) => was.map((r, i) => (i === k ? row : r)));
  const wanted = rows.filter((r) => r.wanted && mayBring(r));
  const open = wanted.filter((r) => outcome(r) === null).length;
  const bringAll = async () => {
    setBusy(true);
    setPair(false);
    for (const [k, row] of rows.entries()) {
      if (!row.wanted || !mayBring(row)) continue;
      const got = await bring(row);
      put(k, got.row);
      if (got.pair) { setPair(true); break; }
    }
    setBusy(false);
  };
  const quiet = rows.filter((r) => r.done === null && !mayBring(r));
  return (
    <section className="bring-back">
      <h2>Bring back</h2>
      <p>Choose the file that was saved at home. What changed at home and here meanwhile is brought together; where both changed the same you choose. Nothing is overwritten that is not kept.</p>
      <p><button type="button" className="control" disabled={busy} onClick={() => chosenFile.current?.click()}>Choose the file</button>
        <input ref={chosenFile} type="file" className="unseen" accept=".html,.htm,.json,text/html,application/json" aria-label="The file from home" tabIndex={-1} onChange={(e) => { const chosen = e.target.files?.[0]; e.target.value = ''; if (chosen) void read(chosen); }} /></p>
      {problem && <p className="sentence" role="alert">{problem}</p>}
      {busy && <p className="quiet-words" role="status">One moment.</p>}
      {file && (
        <>
          <p role="status">Taken from <b dir="auto">{file.studio}</b> on {dayWords(file.takenAt, file.timeZone)}{file.savedAt === null ? ', and not saved since' : `, saved on ${dayWords(file.savedAt, file.timeZone)}`}.</p>
          {rows.length === 0 && <p className="quiet-words">There is no plan in it.</p>}
          <ul className="brought">{rows.map((row, k) => (mayBring(row) || row.done ? <BroughtRow key={row.home.now.id} row={row} library={library} set={(next) => put(k, next)} /> : null))}</ul>
          {quiet.length > 0 && (
            <div className="quiet-words"><p>Nothing to bring of {quiet.length === 1 ? 'this one' : `these ${quiet.length}`}:</p>
              <ul className="dashes">{quiet.map((r) => <li key={r.home.now.id}><bdi>{r.home.now.name}</bdi>, {r.came.is === 'changed here' ? 'changed here only' : r.home.gone ? 'in the bin at home' : 'as it stands here, or not changed at home'}</li>)}</ul>
            </div>
          )}
          {pair && <PairHere done={() => { setPair(false); void bringAll(); }} />}
          {rows.some(mayBring) && (
            <p><button type="button" className="control" disabled={busy || wanted.length === 0 || open > 0} onClick={() => void bringAll()}>Bring back {wanted.length === 1 ? 'one plan' : `${wanted.length} plans`}</button>
              {open > 0 && <span className="quiet-words"> Choose first where both changed the same{open > 1 ? `, in ${open} plans` : ''}.</span>}</p>
          )}
        </>
      )}
    </section>
  );
}
