/** Owns calling for help: one large link that the telephone takes, or the words where no number is known. */
import { type Emergency, telephone } from '../../../shared/wire/emergency.ts';

export function Call({ emergency }: { emergency: Emergency }) {
  if (emergency.number === '') return <p className="stop-nonumber"><b>Call the emergency number of this place.</b> The studio has not written it down.</p>;
  return <a className="big stop-call" href={telephone(emergency)}><span className="big-word">Call {emergency.number}</span></a>;
}
