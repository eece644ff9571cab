/**
 * Owns the question on the wall after a class: a code to scan for whoever likes to say how
 * hard it was. No code of the instructor's is in it. After a stop nobody is asked.
 */
import type { Session } from '../../../shared/session/session.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';
import { usePicture } from '../../../shared/ui/wall/picture.ts';
import type { View } from '../../../shared/view/view.ts';
import { Qr } from '../doors/Qr.tsx';
import './after.css';

/** @param url any address of this server as a phone reaches it; null where none is known */
export function AskEffort({ session, view: v, url }: { session: Session; view: View; url: string | null }) {
  const { upright } = usePicture();
  const { doors: say } = useLanguage().say;
  if (v.phase !== 'over' || v.over?.how === 'forgotten' || url === null || session.wasStopped || session.pause?.stop) return null;
  return (
    <aside className="ask-effort">
      <div className="ask-says">
        <Fit className="ask-words" text={say.howHard} most={upright ? 8.8 : 11} mostOnMore={upright ? 8.8 : 11} lines={2} />
        <Fit className="ask-how" text={say.zeroToTen} most={7.6} lines={1} />
      </div>
      <Qr text={`${new URL(url).origin}/answer/${session.id}`} label={say.answerCode} />
    </aside>
  );
}
