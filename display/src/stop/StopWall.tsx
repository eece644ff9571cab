/**
 * Owns the wall while the room is stopped: plain and still. It asks for what the room can
 * do and says what a caller must say and somebody fetches, from what the studio wrote
 * down; it teaches nothing. Drawn from what this page knows, with or without a network.
 */
import type { StopIn } from '../../../shared/link/own-stop.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';
import { LiveFigure } from '../../../shared/ui/wall/LiveFigure.tsx';
import { usePicture } from '../../../shared/ui/wall/picture.ts';
import { type Emergency, LOCAL_RULES_FIRST } from '../../../shared/wire/emergency.ts';
import './stop.css';

interface StopWallProps {
  readonly stop: StopIn;
  readonly emergency: Emergency;
  /** It was stopped with a key of this screen: then its keys are said. */
  readonly keys: boolean;
}

/** What a studio wrote at length is read by those who stand nearer, rather than not at all. */
const LEAST = 5;

/** A rule of the place that is longer is read at the desk and on the phone. */
const SHORT_RULE = 64;

export function StopWall({ stop, emergency: e, keys }: StopWallProps) {
  const { unit } = usePicture();
  const { answer } = stop;
  const own = e.localRules.length <= SHORT_RULE ? e.localRules : '';
  const rules = answer === null ? '' : `${LOCAL_RULES_FIRST} ${own}`.trim();
  return (
    <div className="stop" data-answer={answer ?? 'none'}>
      {answer === null && (
        <>
          <Fit className="title" text="Please stop" most={22} lines={1} />
          <div className="stop-body"><LiveFigure movement={undefined} pose="resting" side="together" sash={false} height={50 * unit} now={() => null} /></div>
        </>
      )}
      {answer === 'help' && <Help emergency={e} />}
      {answer === 'out' && <Out emergency={e} />}
      {(rules !== '' || keys) && (
        <footer className="stop-foot">
          {rules !== '' && <Fit text={rules} most={7.4} mostOnMore={6} least={LEAST} lines={2} />}
          {keys && <p className="stop-keys">{`H help · O everyone out · B ${answer === null ? 'a slip' : 'back to paused'}`}</p>}
        </footer>
      )}
    </div>
  );
}

function Help({ emergency: e }: { emergency: Emergency }) {
  const place = [e.address, e.floor, e.door].filter((line) => line !== '');
  return (
    <>
      <Fit className="title" text="Please make room" most={13} lines={1} />
      <div className="stop-columns">
        <section>
          <p className="label">Who calls says</p>
          <Fit className="number" text={e.number === '' ? 'The emergency number' : e.number} most={e.number === '' ? 10 : 19} least={8} lines={1} />
          {place.map((line) => <Fit key={line} className="fact" text={line} most={8.4} mostOnMore={7.4} least={LEAST} lines={2} />)}
        </section>
        {(e.defibrillator !== '' || e.firstAid !== '') && (
          <section>
            <p className="label">Who fetches finds</p>
            <Place name="Defibrillator" where={e.defibrillator} />
            <Place name="First-aid box" where={e.firstAid} />
          </section>
        )}
      </div>
    </>
  );
}

function Out({ emergency: e }: { emergency: Emergency }) {
  return (
    <>
      <Fit className="title" text="Everyone out, please" most={14} lines={2} />
      <div className="stop-rows">
        <Place name="Way out" where={e.wayOut === '' ? 'As the signs show' : e.wayOut} large />
        <Place name="Meet at" where={e.meetingPoint} large />
      </div>
    </>
  );
}

function Place({ name, where, large = false }: { name: string; where: string; large?: boolean }) {
  if (where === '') return null;
  return (
    <div className="stop-place">
      <p className="what">{name}</p>
      <Fit className="fact" text={where} most={large ? 13 : 8.4} mostOnMore={large ? 10 : 7.4} least={LEAST} lines={2} />
    </div>
  );
}
