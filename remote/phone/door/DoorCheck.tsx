/** Owns the door check: five short steps, one at a time, each of which may be skipped. */
import { type ReactNode, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { missingIn } from '../../../shared/wire/emergency.ts';
import { type Free, FreeAt } from '../choose/FreeAt.tsx';
import { DoorHeads } from './DoorHeads.tsx';
import { HereToday } from './HereToday.tsx';
import { RightRoom } from './RightRoom.tsx';
import { ScreenAlight } from './ScreenAlight.tsx';
import { Heard } from './Heard.tsx';
import { type Checked, nextStep, type Step, steps } from './steps.ts';

interface Props {
  readonly room: Room;
  readonly checked: Checked;
  readonly onChecked: (checked: Checked) => void;
  readonly free: Free;
  readonly onFree: (free: Free) => void;
  readonly onDone: () => void;
}

export function DoorCheck({ room, checked, onChecked, free, onFree, onDone }: Props) {
  const [step, setStep] = useState<Step>('room');
  const on = () => {
    const next = nextStep(step);
    if (next) setStep(next);
    else onDone();
  };
  const found = (how: 'good' | 'bad') => {
    onChecked({ ...checked, [step]: how });
    if (how === 'good') on();
  };
  const people = room.about?.people;
  const parts: Record<Step, () => ReactNode> = {
    room: () => <RightRoom room={room} onFound={found} />,
    screen: () => <ScreenAlight room={room} onFound={found} />,
    sound: () => <Heard room={room} onFound={found} />,
    free: () => <FreeAt free={free} onChoose={(f) => { onFree(f); onChecked({ ...checked, free: 'good' }); }} />,
    here: () => <><DoorHeads heads={people?.here?.heads ?? 0} tell={room.tell} /><HereToday here={people?.here ?? null} tell={room.tell} /></>,
  };
  const missing = people ? missingIn(people.emergency) : [];
  const mine = step === 'free' || step === 'here' || checked[step] !== undefined;
  return (
    <>
      <section className="page-body door-check">
        <div className="door-top">
          <button type="button" className="back" onClick={onDone}>Close the door check</button>
          <ol className="door-dots" aria-label={`Step ${steps.indexOf(step) + 1} of ${steps.length}`}>{steps.map((s) => <li key={s} data-now={s === step} data-how={checked[s] ?? 'open'} />)}</ol>
        </div>
        {parts[step]()}
        {step === 'here' && missing.length > 0 && <p className="cautions">Not written down for a bad minute: {missing.join(', ')}. The first page has a place for it.</p>}
      </section>
      <div className="foot"><button type="button" className="big" data-quiet={!mine} onClick={on}><span className="big-word">{nextStep(step) === null ? 'Done' : mine ? 'Next' : 'Skip'}</span></button></div>
    </>
  );
}
