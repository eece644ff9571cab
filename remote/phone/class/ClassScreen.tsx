/** Owns the phone during a class: everything it shows comes from `view`, everything it can do from `controls`. */
import { useMemo, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Session } from '../../../shared/session/session.ts';
import { between } from '../../../shared/time/units.ts';
import { controls } from '../../../shared/view/controls.ts';
import { floorOf } from '../../../shared/view/floor.ts';
import { view } from '../../../shared/view/view.ts';
import { words } from '../../../shared/view/words.ts';
import type { Library } from '../../common/library.ts';
import { useInstant } from '../hooks/use-instant.ts';
import { useTaps } from '../hooks/use-taps.ts';
import { useWakeLock } from '../hooks/use-wake-lock.ts';
import { About, titleOf } from './About.tsx';
import { Big } from './Big.tsx';
import { Buttons } from './Buttons.tsx';
import { latenessOf } from './lateness.ts';
import { More } from './More.tsx';
import { Picture } from './Picture.tsx';
import { Reasons } from './Reasons.tsx';
import { Top } from './Top.tsx';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly library: Library;
}

export function ClassScreen({ room, session, library }: Props) {
  const now = useInstant(room) ?? session.lastAt;
  const taps = useTaps(room);
  const [more, setMore] = useState(false);
  useWakeLock(true);
  const { intervals } = session;
  const floor = useMemo(() => floorOf({ intervals }), [intervals]);
  const v = view(session, now);
  const can = controls(session, now);
  const said = words(session, v);
  const line = latenessOf(session, v, room.about?.studio.timeZone ?? 'UTC');
  const lateMs = session.freeAt === null ? 0 : between(session.freeAt, v.projectedAt);
  const settingUp = v.phase === 'set-up' || v.phase === 'count-in';
  return (
    <main className="class">
      <Top room={room} session={session} taps={taps} onMore={() => setMore(true)} />
      <Picture room={room} session={session} v={v} said={said} library={library} floor={floor} lateMs={lateMs} />
      <div className="line" data-how={line.how} >
        <b>{line.words}</b>{line.detail && <span>{line.detail}</span>}
        <div role="alert">{taps.sentence && <button type="button" className="sentence" onClick={() => taps.say(null)}>{taps.sentence}</button>}</div>
      </div>
      <div className="say">
        <h2 className="title">{titleOf(session, v, said)}{v.round && <small>Round {v.round.n} of {v.round.of}</small>}</h2>
        {v.paused ? <Reasons pause={v.paused} taps={taps} /> : <About session={session} v={v} said={said} library={library} />}
        {v.next && !v.paused && <p className="fact next"><b>{said.nextLabel}</b> {said.next}</p>}
      </div>
      <div className="hands">
        <Buttons can={can} settingUp={settingUp} taps={taps} />
        {can.big && <Big big={can.big} hint="" taps={taps} />}
      </div>
      {more && <More session={session} taps={taps} onClose={() => setMore(false)} />}
    </main>
  );
}
