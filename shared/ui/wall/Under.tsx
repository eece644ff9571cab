/** Owns what lies under the floor: the promised end, and what comes next with its small body. */
import type { Library } from '../../movement/movement.ts';
import type { Session } from '../../session/session.ts';
import { Figure } from '../figure/Figure.tsx';
import type { View } from '../../view/view.ts';
import type { Words } from '../../view/words.ts';
import { useLanguage } from '../language.ts';
import { Fit } from './Fit.tsx';
import { usePicture } from './picture.ts';

interface UnderProps {
  readonly session: Session;
  readonly view: View;
  readonly words: Words;
  readonly library: Library;
  readonly timeZone: string;
  readonly alone: boolean;
}

/** Letters of a name beside which the small body has no room. */
const LONG_NAME = 19;

export function Under({ session, view: v, words, library, timeZone, alone }: UnderProps) {
  const { unit } = usePicture();
  const { clock, say: { class: say } } = useLanguage();
  if (v.phase === 'over') {
    return <footer className="under"><Fit className="plan" text={session.plan.name} most={9} lines={2} /></footer>;
  }
  if (v.moving || v.stopped) return <footer className="under" />;
  const id = v.paused ? v.movement : (v.next?.movement ?? null);
  const side = (v.paused ? v.side : v.next?.side) ?? 'together';
  const movement = id === null ? undefined : library.get(id);
  const long = words.next.length > LONG_NAME;
  return (
    <footer className="under">
      <div className="ends">
        <p className="label">{alone ? say.noNetwork : say.endsAt}</p>
        <p className="what">{alone ? say.stillCounting : clock(v.promisedAt, timeZone)}</p>
      </div>
      <div className="next" data-long={long || undefined}>
        {movement && !long && <Figure movement={movement} pose="still" side={side} atMs={0} height={15.5 * unit} sash={v.paused !== null && v.side !== null} />}
        <div className="next-words">
          <p className="label">{words.nextLabel}</p>
          <Fit className="what" text={words.next} most={8.2} mostOnMore={7.2} lines={2} />
        </div>
      </div>
    </footer>
  );
}
