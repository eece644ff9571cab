/**
 * Owns the question on the wall after a class: a code to scan for whoever likes to say how
 * hard it was. No code of the instructor's is in it. After a stop nobody is asked.
 */
import type { Session } from '../../../shared/session/session.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';
import type { View } from '../../../shared/view/view.ts';
import { Qr } from '../doors/Qr.tsx';
import './after.css';

/** @param url any address of this server as a phone reaches it; null where none is known */
export function AskEffort({ session, view: v, url }: { session: Session; view: View; url: string | null }) {
  if (v.phase !== 'over' || v.over?.how === 'forgotten' || url === null || session.wasStopped || session.pause?.stop) return null;
  return (
    <aside className="ask-effort">
      <Qr text={`${new URL(url).origin}/answer/${session.id}`} label="Code for the question how hard the class was" />
      <Fit className="ask-words" text="How hard was that?" most={9} lines={2} />
      <Fit className="label" text="0 to 10, no name" most={7.4} lines={1} />
    </aside>
  );
}
