/**
 * Owns the room in the middle: clay behind the body, the seconds and the words for
 * the limb on the side that works, the option on the other. The body is a mirror:
 * the left of the screen is the participant's left.
 */
import type { Ref } from 'react';
import { type Library, onFloor } from '../../movement/movement.ts';
import type { Session } from '../../session/session.ts';
import { Tide } from '../Tide.tsx';
import type { View } from '../../view/view.ts';
import type { Words } from '../../view/words.ts';
import { LiveFigure } from './LiveFigure.tsx';
import { usePicture } from './picture.ts';
import type { Now } from './use-frames.ts';
import { Beside } from './Beside.tsx';
import { LONG_S } from '../../words/language.ts';
import { Count } from './Count.tsx';
import { poseOf } from '../figure/pose-of.ts';
import { Stations } from './Stations.tsx';

interface StageProps {
  readonly session: Session;
  readonly view: View;
  readonly words: Words;
  readonly library: Library;
  readonly now: Now;
  readonly tideRef?: Ref<HTMLDivElement>;
}

/** What everybody can do while they keep moving; who sits goes on sitting. */
const easyMarch = (library: Library, movement: string | null): string =>
  movement !== null && library.get(movement)?.start === 'chair' ? 'chair-march' : 'march-in-place';

/** Units of height of the body's place. */
const BODY = 50;
const TALLEST_BODY = 62;
/** Units that title, floor and what is under it take. */
const OTHERS = 47;
/** A body on the floor is drawn larger and is wider; the words beside it need their place. */
const LYING_BODY = 45;
/** In a larger hall the title stands over the body, and there are fewer units. */
const FAR_OTHERS = 36;
const FAR_LYING_BODY = 24;
/** Beside minutes. */
const FAR_LONG_BODY = 19;
const FAR_UPRIGHT_BODY = 34;
/** Where the screen stands upright the option is over the head, not on it. */
const UPRIGHT_BODY = 47;

export function Stage({ session, view: v, words, library, now, tideRef }: StageProps) {
  const { unit, height, upright, far } = usePicture();
  const most = far ? (upright ? FAR_UPRIGHT_BODY : Math.min(BODY, height - FAR_OTHERS)) : upright ? UPRIGHT_BODY : Math.min(TALLEST_BODY, height - OTHERS);
  const lying = far ? ((v.seconds ?? 0) >= LONG_S ? FAR_LONG_BODY : FAR_LYING_BODY) : LYING_BODY;
  const side = v.side ?? 'right';
  const movement = v.moving ? library.get(easyMarch(library, v.movement)) : v.movement === null ? undefined : library.get(v.movement);
  const lies = movement !== undefined && onFloor(movement.start) && poseOf(v) !== 'resting';
  const stations = v.interval?.stations && !v.paused ? v.interval.stations : null;
  return (
    <section className="stage" data-side={side} data-sided={v.side !== null || undefined} data-lies={lies || undefined} data-long={(v.seconds ?? 0) >= LONG_S || undefined}>
      <Tide view={v} {...(tideRef ? { shareRef: tideRef } : {})} />
      {stations ? (
        <Stations movements={stations.movements} session={session} library={library} working={v.phase === 'work'} />
      ) : (
        <div className="body">
          <LiveFigure
            movement={movement}
            pose={poseOf(v)}
            side={v.moving ? 'together' : (v.side ?? 'together')}
            sash={v.side !== null && !v.moving}
            height={(lies ? lying : most) * unit}
            now={now}
          />
        </div>
      )}
      {!v.paused && <Count view={v} words={words} />}
      {!v.paused && !stations && <Beside view={v} words={words} library={library} />}
    </section>
  );
}
