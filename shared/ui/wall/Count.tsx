/**
 * Owns the seconds and the words by them. A count-in stands alone and large, the
 * last three seconds of work are cut from dark paper: nobody takes one for the other.
 */
import { LONG_S } from '../../words/language.ts';
import type { View } from '../../view/view.ts';
import type { Words } from '../../view/words.ts';
import { useLanguage } from '../language.ts';
import { Fit } from './Fit.tsx';
import { SECONDS_TEXT } from './legibility.ts';
import { usePicture } from './picture.ts';

/** Four digits need the room of three; nobody counts them down from the back row. */
const TEN_MINUTES_S = 600;

/** A screen that stands upright in a large hall is narrower than minutes at two degrees: it shows them as large as it can. */
const NARROW = 0.84;

export function Count({ view: v, words }: { view: View; words: Words }) {
  const { unit, far, upright } = usePicture();
  const { count } = useLanguage();
  const { seconds } = v;
  if (seconds === null && words.line === '') return null;
  const kind = v.closing ? 'closing' : v.phase === 'count-in' ? 'count-in' : 'plain';
  return (
    <div className="count" data-kind={kind}>
      {seconds !== null && <p className="seconds" style={{ fontSize: `${SECONDS_TEXT * unit * (seconds >= TEN_MINUTES_S ? 0.7 : seconds >= LONG_S && far && upright ? NARROW : 1)}px` }}>{count(seconds)}</p>}
      {words.lines.map((line) => (
        <Fit key={line} className="line" text={line} most={seconds === null ? 14 : far ? 7.4 : 8.2} mostOnMore={seconds === null ? 10 : 7.4} lines={2} />
      ))}
    </div>
  );
}
