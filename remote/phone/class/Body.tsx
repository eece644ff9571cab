/** Owns where the body stands on the phone, and which pose it has; the figure itself is drawn by shared/ui. */
import type { Session } from '../../../shared/session/session.ts';
import type { View } from '../../../shared/view/view.ts';

export function Body({ session, v }: { session: Session; v: View }) {
  void session;
  return <div className="body" data-movement={v.movement ?? ''} aria-hidden="true" />;
}
