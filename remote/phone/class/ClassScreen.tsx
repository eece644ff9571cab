/** Owns the phone during a class: everything it shows comes from `view`, everything it can do from `controls`. */
import { useEffect, useMemo, useRef, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Session } from '../../../shared/session/session.ts';
import { lateness } from '../../../shared/session/finish.ts';
import type { ServerAt } from '../../../shared/time/units.ts';
import { controls } from '../../../shared/view/controls.ts';
import { floorOf } from '../../../shared/view/floor.ts';
import { fittingNow } from '../../../shared/view/options.ts';
import { view } from '../../../shared/view/view.ts';
import { words } from '../../../shared/view/words.ts';
import type { Library } from '../../common/library.ts';
import { HandOver } from '../hand-over/HandOver.tsx';
import { useInstant } from '../hooks/use-instant.ts';
import { useTaps } from '../hooks/use-taps.ts';
import { useWakeLock } from '../hooks/use-wake-lock.ts';
import { useRooms } from '../rooms/hand.ts';
import { About, titleOf } from './About.tsx';
import { Big, bigOf } from './Big.tsx';
import { Buttons } from './Buttons.tsx';
import { Changes } from './Changes.tsx';
import { CoverNote } from './CoverNote.tsx';
import { LateLine } from './LateLine.tsx';
import { More } from './More.tsx';
import { Picture } from './Picture.tsx';
import { Sill } from './Sill.tsx';
import { Standing } from './Standing.tsx';
import { Top } from './Top.tsx';
import { Ways } from './Ways.tsx';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly library: Library;
}

type Open = 'more' | 'end' | 'changes' | 'hand-over' | 'cover' | { readonly waysAt: ServerAt };

/** What was counted at the door goes into the log of the class that begins, once. */
function useHeadsFromTheDoor(room: Room, session: Session): void {
  const said = useRef(false);
  const heads = room.about?.people.here?.heads ?? 0;
  const { send } = room;
  const wanted = session.headCount === null && heads > 0 && room.link.state === 'live';
  useEffect(() => {
    if (!wanted || said.current) return;
    said.current = true;
    void send({ type: 'head-count', n: heads });
  }, [wanted, heads, send]);
}

export function ClassScreen({ room, session, library }: Props) {
  const now = useInstant(room) ?? session.lastAt;
  const taps = useTaps(room);
  const { justPaired } = useRooms();
  const { people, you } = room.about ?? {};
  // Whoever began this class knows it; the note is for who came into it by the code.
  const tookOver = justPaired && Boolean(session.plan.forCover) && people?.lead === you;
  const [sheet, setSheet] = useState<Open | null>(tookOver ? 'cover' : null);
  const [sill, setSill] = useState(false);
  const close = () => setSheet(null);
  useWakeLock(true);
  useHeadsFromTheDoor(room, session);
  const { intervals } = session;
  const floor = useMemo(() => floorOf({ intervals }), [intervals]);
  const v = view(session, now);
  const can = controls(session, now);
  const said = words(session, v);
  const timeZone = room.about?.studio.timeZone ?? 'UTC';
  const late = lateness(session, now);
  const settingUp = v.phase === 'set-up' || v.phase === 'count-in';
  const does = bigOf(can);
  const noScreen = room.link.state === 'live' && room.about?.present.screens === 0 && !sill;
  const fitting = fittingNow(room.about?.people.here ?? null, v, library.movements);
  return (
    <main className="class" data-sill={sill}>
      <Top room={room} session={session} taps={taps} onMore={() => setSheet('more')} onHandOver={() => setSheet('hand-over')} />
      {sill ? <Sill session={session} v={v} said={said} onClose={() => setSill(false)} /> : (
        <>
          <Picture room={room} session={session} v={v} said={said} library={library} floor={floor} lateMs={session.freeAt === null ? 0 : late.overrunMs} />
          <LateLine session={session} late={late} timeZone={timeZone} now={now} taps={taps} onWays={() => setSheet({ waysAt: now })} />
          <div className="say">
            {noScreen && <p className="no-screen"><span>No screen is here.</span><button type="button" className="control" onClick={() => setSill(true)}>Big digits</button></p>}
            <h2 className="title">{titleOf(session, v, said)}{v.round && !v.paused && <small>Round {v.round.n} of {v.round.of}</small>}</h2>
            {v.paused ? <Standing pause={v.paused} v={v} can={can} now={now} taps={taps} onEnd={() => setSheet('end')} />
              : <About session={session} v={v} said={said} library={library} fitting={fitting.now} />}
            {v.next && !v.paused && <p className="fact next"><b>{said.nextLabel}</b> {said.next}</p>}
          </div>
        </>
      )}
      <div className="hands">
        {!sill && <Buttons can={can} settingUp={settingUp} taps={taps} />}
        {does && <Big does={does} hint="" taps={taps} />}
      </div>
      {(sheet === 'more' || sheet === 'end') && (
        <More
          room={room} session={session} can={can} taps={taps} ends={sheet === 'end'} onClose={close}
          onPage={(page) => {
            if (page === 'sill') setSill(true);
            setSheet(page === 'sill' ? null : page);
          }}
        />
      )}
      {sheet === 'changes' && <Changes session={session} now={now} library={library} taps={taps} onClose={close} />}
      {sheet === 'hand-over' && <HandOver room={room} onClose={close} />}
      {sheet === 'cover' && <CoverNote session={session} onClose={close} />}
      {sheet !== null && typeof sheet === 'object' && <Ways session={session} at={sheet.waysAt} timeZone={timeZone} taps={taps} onClose={close} />}
    </main>
  );
}
