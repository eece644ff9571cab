/** Owns the side that does not count: the option, small and there all through; in a show the cues too. */
import type { Library } from '../../movement/movement.ts';
import { Figure } from '../figure/Figure.tsx';
import type { View } from '../../view/view.ts';
import type { Words } from '../../view/words.ts';
import { useLanguage } from '../language.ts';
import { Fit } from './Fit.tsx';
import { usePicture } from './picture.ts';

interface BesideProps {
  readonly view: View;
  readonly words: Words;
  readonly library: Library;
}

/** More would be read instead of watched. */
const CUES = 3;

export function Beside({ view: v, words, library }: BesideProps) {
  const { unit } = usePicture();
  const { say, text } = useLanguage();
  const movement = v.movement === null ? undefined : library.get(v.movement);
  const shows = v.phase === 'watch' || v.phase === 'work' || v.phase === 'set-up' || v.phase === 'count-in' || v.phase === 'other-side';
  const other = movement?.option.movement === undefined ? undefined : library.get(movement.option.movement);
  return (
    <>
      {v.phase === 'watch' && movement && (
        <ul className="cues">
          {movement.cues.slice(0, CUES).map((cue) => <li key={cue}><Fit text={text(movement.id, movement.name, cue)} most={8} lines={2} /></li>)}
        </ul>
      )}
      {shows && words.option !== '' && (
        <div className="option">
          <div className="option-head">
            <p className="label">{say.class.option}</p>
            {other && <Figure movement={other} pose="still" side={v.side ?? 'together'} atMs={0} height={14 * unit} />}
          </div>
          <Fit className="words" text={words.option} most={SIZE} lines={3} />
        </div>
      )}
    </>
  );
}

const SIZE = 7.4;
