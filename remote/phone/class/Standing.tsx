/** Owns what a pause offers: its reasons, and after long standing the choice between easy movement and carrying on at once. */
import type { Session } from '../../../shared/session/session.ts';
import { between, type ServerAt } from '../../../shared/time/units.ts';
import type { Controls } from '../../../shared/view/controls.ts';
import type { View } from '../../../shared/view/view.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { Control } from './Control.tsx';
import { Moving } from './Moving.tsx';
import { Reasons } from './Reasons.tsx';

interface Props {
  readonly pause: NonNullable<Session['pause']>;
  readonly v: View;
  readonly can: Controls;
  readonly now: ServerAt;
  readonly taps: Taps;
  readonly onEnd: () => void;
}

const MINUTE_MS = 60_000;

export function Standing({ pause, v, can, now, taps, onEnd }: Props) {
  if (v.moving) return <Moving moving={v.moving} now={now} taps={taps} onEnd={onEnd} />;
  if (!can.easyFirst || can.big?.type !== 'carry-on') return <Reasons pause={pause} taps={taps} />;
  return (
    <div className="moving stood">
      <p>They stood {Math.floor(between(pause.since, now) / MINUTE_MS)} minutes. Easy movement first?</p>
      <div className="moving-ways one"><Control name="carry-on-now" command={can.big} taps={taps}>Carry on now</Control></div>
    </div>
  );
}
