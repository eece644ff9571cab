/** Owns the line that says what this page is: a copy, of which studio, from when; whether what was written is kept; saving it. */
import { useState } from 'react';
import { dayWords } from '../desk/day-words.ts';
import type { HomeOpen, Standing } from './open.ts';

/** "Wed 25 Nov 2026 at 20:15", on the studio's wall. */
const when = (at: number, timeZone: string): string =>
  `${dayWords(at, timeZone)} at ${new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', timeZone }).format(at)}`;

export function AboutFile({ home: { file, save }, standing }: { home: HomeOpen; standing: Standing }) {
  const [more, setMore] = useState(false);
  const { unsaved, kept, before, savedAt } = standing;
  return (
    <header className="about-file no-print">
      <p><b dir="auto">{file.studio}, at home.</b> A copy, taken on {when(file.takenAt, file.timeZone)}{savedAt !== null && `, saved on ${when(savedAt, file.timeZone)}`}. <button type="button" className="link" aria-expanded={more} onClick={() => setMore(!more)}>{more ? 'Less' : 'How it comes back'}</button></p>
      {more && (
        <>
        <p>This page asks no network, and nothing leaves it but what you save. Write as at the desk. <b>Save as file</b> makes this page once more with what you wrote in it: keep it, send it, open it on a phone. In the studio, open the desk, <b>Class plans</b>, then <b>Take home, bring back</b>, and choose it there: what changed meanwhile is brought together, and where both changed the same you are asked.</p>
        <p>A mail that takes no large file takes <button type="button" className="link" onClick={() => save('small')}>only what was written</button>: it cannot be opened, but the desk takes it back.</p>
        </>
      )}
      <p className="file-line" role="status" data-quiet={unsaved === 0}>
        <span>
          {unsaved === 0 ? (savedAt === null ? 'Nothing was changed yet.' : 'All of it is in the saved file.')
            : `${unsaved === 1 ? 'One plan is' : `${unsaved} plans are`} not in a file yet. ${kept ? 'This browser keeps what you wrote until then.' : 'This browser keeps nothing for a file: save it before you close this page.'}`}
          {before && unsaved > 0 && ' What you wrote here last time is here again.'}
        </span>
        <button type="button" className="control small" onClick={() => save('page')}>Save as file</button>
      </p>
    </header>
  );
}
