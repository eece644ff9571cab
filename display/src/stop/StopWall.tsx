/**
 * Owns the wall while the room is stopped: plain and still. It asks for what the room can
 * do and says what a caller must say and somebody fetches, from what the studio wrote
 * down; it teaches nothing. Drawn from what this page knows, with or without a network.
 */
import type { StopIn } from '../../../shared/link/own-stop.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';
import { LiveFigure } from '../../../shared/ui/wall/LiveFigure.tsx';
import { usePicture } from '../../../shared/ui/wall/picture.ts';
import type { Emergency } from '../../../shared/wire/emergency.ts';
import './stop.css';

interface StopWallProps {
  readonly stop: StopIn;
  readonly emergency: Emergency;
  /** It was stopped with a key of this screen: then its keys are said. */
  readonly keys: boolean;
}

/** What a studio wrote at length is read by those who stand nearer, rather than not at all. */
const LEAST = 5;

/** Units that its words and the floor take. */
const OTHERS = 48;

/** A rule of the place that is longer is read at the desk and on the phone. */
const SHORT_RULE = 64;

export function StopWall({ stop, emergency: e, keys }: StopWallProps) {
  const { unit, height } = usePicture();
  const { stop: say, class: said } = useLanguage().say;
  const { answer } = stop;
  const own = e.localRules.length <= SHORT_RULE ? e.localRules : '';
  const rules = answer === null ? '' : `${say.localRulesFirst} ${own}`.trim();
  return (
    <div className="stop" data-answer={answer ?? 'none'}>
      {answer === null && (
        <>
          <Fit className="title" text={said.pleaseStop} most={22} lines={1} />
          <div className="stop-body"><LiveFigure movement={undefined} pose="resting" side="together" sash={false} height={Math.min(50, height - OTHERS) * unit} now={() => null} /></div>
        </>
      )}
      {answer === 'help' && <Help emergency={e} />}
      {answer === 'out' && <Out emergency={e} />}
      {(rules !== '' || keys) && (
        <footer className="stop-foot">
          {rules !== '' && <Fit text={rules} most={7.4} mostOnMore={6} least={LEAST} lines={2} />}
          {keys && <p className="stop-keys">{answer === null ? say.keysSlip : say.keysBack}</p>}
        </footer>
      )}
    </div>
  );
}

function Help({ emergency: e }: { emergency: Emergency }) {
  const { stop: say } = useLanguage().say;
  const place = [e.address, e.floor, e.door].filter((line) => line !== '');
  return (
    <>
      <Fit className="title" text={say.makeRoom} most={13} lines={1} />
      <div className="stop-columns">
        <section>
          <p className="label">{say.callerSays}</p>
          <Fit className="number" text={e.number === '' ? say.emergencyNumber : e.number} most={e.number === '' ? 15 : 19} least={8} lines={1} />
          {place.map((line) => <Fit key={line} className="fact" text={line} most={8.4} mostOnMore={7.4} least={LEAST} lines={2} />)}
        </section>
        {(e.defibrillator !== '' || e.firstAid !== '') && (
          <section>
            <p className="label">{say.fetcherFinds}</p>
            <Place name={say.defibrillator} where={e.defibrillator} />
            <Place name={say.firstAid} where={e.firstAid} />
          </section>
        )}
      </div>
    </>
  );
}

function Out({ emergency: e }: { emergency: Emergency }) {
  const { stop: say } = useLanguage().say;
  return (
    <>
      <Fit className="title" text={say.everyoneOut} most={14} lines={2} />
      <div className="stop-rows">
        <Place name={say.wayOut} where={e.wayOut === '' ? say.asSigns : e.wayOut} large />
        <Place name={say.meetAt} where={e.meetingPoint} large />
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
