/**
 * Owns the wall during a class as it is drawn: title, room, floor, and what comes
 * next. It shows `view` and `words`, nothing else; the screen and a replay at the desk
 * draw with it. Leaves alone the clock, and who repaints at every frame.
 */
import { type ReactNode, type Ref, useMemo } from 'react';
import type { Library } from '../../movement/movement.ts';
import type { Session } from '../../session/session.ts';
import { floorOf } from '../../view/floor.ts';
import type { View } from '../../view/view.ts';
import { LONG_S } from '../../words/language.ts';
import type { Words } from '../../view/words.ts';
import { Floor } from '../Floor.tsx';
import { Fit } from './Fit.tsx';
import { useGivingWay } from './gives-way.ts';
import { PictureProvider, usePicture } from './picture.ts';
import { Stage } from './Stage.tsx';
import { Under } from './Under.tsx';
import type { Now } from './use-frames.ts';
import './wall.css';
import './class.css';
import './upright.css';
import './rtl.css';
import './far.css';

interface SceneProps {
  readonly session: Session;
  readonly view: View;
  readonly words: Words;
  /** What stands in the upper corner. */
  readonly corner: string;
  readonly library: Library;
  readonly timeZone: string;
  readonly alone: boolean;
  readonly now: Now;
  readonly tideRef?: Ref<HTMLDivElement>;
  readonly notchRef?: Ref<HTMLDivElement>;
  /** What stands on the wall beside the class, if anything. */
  readonly children?: ReactNode;
}

export function Scene({ session, view: v, words: w, corner, library, timeZone, alone, now, tideRef, notchRef, children }: SceneProps) {
  const floor = useMemo(() => floorOf(session), [session]);
  const over = v.phase === 'over';
  const picture = usePicture();
  const counts = !v.paused && (v.seconds !== null || w.line !== '');
  // The digits change every second and keep their room; everything else that is said is in the key.
  const key = [w.title, corner, w.line, w.option, w.nextLabel, w.next, v.phase, v.side, v.paused !== null, (v.seconds ?? 0) >= LONG_S, picture.unit, picture.width].join('\n');
  const { root, without } = useGivingWay(key, picture.unit);
  const inPicture = useMemo(() => ({ ...picture, without }), [picture, without]);
  return (
    <PictureProvider value={inPicture}>
    <div
      className="class" ref={root} data-phase={v.phase} data-paused={v.paused !== null || undefined} data-side={v.side ?? 'right'}
      data-counts={counts ? undefined : 'no'} data-long={(v.seconds ?? 0) >= LONG_S || undefined} data-without={without || undefined}
    >
      <header className="head">
        <Fit className="title" text={w.title} most={12} mostOnMore={8.4} lines={2} />
        {corner !== '' && <p className="corner">{corner}</p>}
      </header>
      <Stage session={session} view={v} words={w} library={library} now={now} {...(tideRef ? { tideRef } : {})} />
      {children}
      <div className="ground">
        <Floor floor={floor} atMs={over ? floor.lengthMs : v.floorMs} notch={!over} {...(notchRef ? { nowRef: notchRef } : {})} />
      </div>
      <Under session={session} view={v} words={w} library={library} timeZone={timeZone} alone={alone} />
    </div>
    </PictureProvider>
  );
}
