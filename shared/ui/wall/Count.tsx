/**
 * Owns the seconds and the words by them. A count-in stands alone and large, the
 * last three seconds of work are cut from dark paper: nobody takes one for the other.
 */
import type { View } from '../../view/view.ts';
import type { Words } from '../../view/words.ts';
import { Fit } from './Fit.tsx';
import { SECONDS_TEXT } from './legibility.ts';
import { usePicture } from './picture.ts';

/** From here on they are minutes, and wider. */
export const LONG_S = 100;

/** Four digits need the room of three; nobody counts them down from the back row. */
const TEN_MINUTES_S = 600;

export function Count({ view: v, words }: { view: View; words: Words }) {
  const { unit } = usePicture();
  const { seconds } = v;
  if (seconds === null && words.line === '') return null;
  const kind = v.closing ? 'closing' : v.phase === 'count-in' ? 'count-in' : 'plain';
  return (
    <div className="count" data-kind={kind}>
      {seconds !== null && <p className="seconds" style={{ fontSize: `${SECONDS_TEXT * unit * (seconds >= TEN_MINUTES_S ? 0.7 : 1)}px` }}>{secondsText(seconds)}</p>}
      {linesOf(words.line).map((line) => (
        <Fit key={line} className="line" text={line} most={seconds === null ? 14 : 8.2} mostOnMore={seconds === null ? 10 : 7.4} lines={2} />
      ))}
    </div>
  );
}

/** "Set up: on your back" and "10 reps, right leg back" are each said in two breaths. */
const linesOf = (line: string): string[] => (/^\d/.test(line) ? line.split(', ') : line.split(/(?<=:) /)).filter(Boolean);

/** Seconds as they are said; from 100 on as minutes. */
export const secondsText = (s: number): string =>
  s < LONG_S ? String(s) : `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
