/** Owns "someone needs help": what a caller says, what somebody fetches, two stamps. It teaches no first aid. */
import type { StopHere } from '../../../shared/link/use-stop.ts';
import type { StopStamp } from '../../../shared/session/session.ts';
import { type Emergency, LOCAL_RULES_FIRST } from '../../../shared/wire/emergency.ts';
import { Call } from './Call.tsx';
import { Facts } from './Facts.tsx';
import { sinceWords } from './since.ts';

function Stamp({ words, ms, onStamp }: { words: string; ms: number | null; onStamp: () => void }) {
  return (
    <button type="button" className="control stamp" disabled={ms !== null} data-stamped={ms !== null} onClick={onStamp}>
      {words}{ms !== null && <small>{sinceWords(ms)} ago</small>}
    </button>
  );
}

export function Help({ stop, emergency }: { stop: StopHere; emergency: Emergency }) {
  const stamp = (what: StopStamp) => () => stop.stamp(what);
  return (
    <section className="stop-body">
      <p className="stop-rules"><b>{LOCAL_RULES_FIRST}</b> {emergency.localRules}</p>
      <Call emergency={emergency} />
      <div className="stop-say">
        <h3>Say</h3>
        <Facts emergency={emergency} facts={[['Address', 'address'], ['Floor', 'floor'], ['Door', 'door']]} />
      </div>
      <div className="stop-fetch">
        <h3>Send somebody to fetch</h3>
        <Facts emergency={emergency} facts={[['Defibrillator', 'defibrillator'], ['First-aid box', 'firstAid']]} />
      </div>
      <div className="stamps">
        <Stamp words="Help called" ms={stop.calledMs} onStamp={stamp('help-called')} />
        <Stamp words="Help here" ms={stop.hereMs} onStamp={stamp('help-here')} />
      </div>
      <button type="button" className="control" onClick={() => stop.answer('out')}>Everyone out</button>
    </section>
  );
}
