/** Owns "everyone out": the way, the meeting point, and how many must be there; all of it held on this phone. */
import type { StopHere } from '../../../shared/link/use-stop.ts';
import { type Emergency, LOCAL_RULES_FIRST } from '../../../shared/wire/emergency.ts';
import { Call } from './Call.tsx';
import { Facts } from './Facts.tsx';

export function Out({ stop, emergency, heads }: { stop: StopHere; emergency: Emergency; heads: number | null }) {
  return (
    <section className="stop-body">
      <p className="stop-heads"><b>{heads ?? '–'}</b> <span>{heads === null ? 'Nobody was counted. Ask who is missing.' : 'were here. Count them at the meeting point.'}</span></p>
      <Facts emergency={emergency} facts={[['Way out', 'wayOut'], ['Meet at', 'meetingPoint']]} />
      <p className="stop-rules"><b>{LOCAL_RULES_FIRST}</b> {emergency.localRules}</p>
      <Call emergency={emergency} />
      <button type="button" className="control" onClick={() => stop.answer('help')}>Someone needs help</button>
    </section>
  );
}
