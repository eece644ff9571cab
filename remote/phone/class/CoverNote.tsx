/** Owns the note that the owner of a plan left for whoever covers it. */
import type { Session } from '../../../shared/session/session.ts';
import { Sheet } from './Sheet.tsx';

export function CoverNote({ session, onClose }: { session: Session; onClose: () => void }) {
  return (
    <Sheet title="Left for you" sentence={null} onClose={onClose}>
      <p className="cover-words">{session.plan.forCover}</p>
      <p className="quiet-words">What you change now changes this class only. The plan “{session.plan.name}” stays as it is.</p>
      <button type="button" className="control strong" onClick={onClose}>Take the class</button>
    </Sheet>
  );
}
