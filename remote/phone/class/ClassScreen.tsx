/** Owns the phone during a class: everything it shows comes from `view`, everything it can do from `controls`. */
import { useMemo, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Session } from '../../../shared/session/session.ts';
import { lateness } from '../../../shared/session/finish.ts';
import type { ServerAt } from '../../../shared/time/units.ts';
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
import { Changes } from './Changes.tsx';
import { LateLine } from './LateLine.tsx';
import { More } from './More.tsx';
import { Picture } from './Picture.tsx';
import { Reasons } from './Reasons.tsx';
import { Top } from './Top.tsx';
import { Ways } from './Ways.tsx';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly library: Library;
}

export function ClassScreen({ room, session, library }: Props) {
  const now = useInstant(room) ?? session.lastAt;
  const taps = useTaps(room);
  const [sheet, setSheet] = useState<'more' | 'changes' | { readonly waysAt: ServerAt } | null>(null);
  const close = () => setSheet(null);
  useWakeLock(true);
  const { intervals } = session;
  const floor = useMemo(() => floorOf({ intervals }), [intervals]);
  const v = view(session, now);
  const can = controls(session, now);
  const said = words(session, v);
  const timeZone = room.about?.studio.timeZone ?? 'UTC';
  const late = lateness(session, now);
  const settingUp = v.phase === 'set-up' || v.phase === 'count-in';
  return (
    <main className="class">
      <Top room={room} session={session} taps={taps} onMore={() => setSheet('more')} />
      <Picture room={room} session={session} v={v} said={said} library={library} floor={floor} lateMs={session.freeAt === null ? 0 : late.overrunMs} />
      <LateLine session={session} late={late} timeZone={timeZone} now={now} taps={taps} onWays={() => setSheet({ waysAt: now })} />
      <div className="say">
        <h2 className="title">{titleOf(session, v, said)}{v.round && <small>Round {v.round.n} of {v.round.of}</small>}</h2>
        {v.paused ? <Reasons pause={v.paused} taps={taps} /> : <About session={session} v={v} said={said} library={library} />}
        {v.next && !v.paused && <p className="fact next"><b>{said.nextLabel}</b> {said.next}</p>}
      </div>
      <div className="hands">
        <Buttons can={can} settingUp={settingUp} taps={taps} />
        {can.big && <Big big={can.big} hint="" taps={taps} />}
      </div>
      {sheet === 'more' && <More session={session} taps={taps} onChanges={() => setSheet('changes')} onClose={close} />}
      {sheet === 'changes' && <Changes session={session} now={now} library={library} taps={taps} onClose={close} />}
      {sheet !== null && typeof sheet === 'object' && <Ways session={session} at={sheet.waysAt} timeZone={timeZone} taps={taps} onClose={close} />}
    </main>
  );
}
