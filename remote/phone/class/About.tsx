/** Owns what the instructor reads from 1.2 m: the movement's name, option, what to look for, cues, what is next. */
import type { Session } from '../../../shared/session/session.ts';
import type { Fitting } from '../../../shared/view/options.ts';
import type { View } from '../../../shared/view/view.ts';
import type { Words } from '../../../shared/view/words.ts';
import { movementName, sectionName } from '../../../shared/view/words.ts';
import type { Library } from '../../common/library.ts';
import { Options } from './Options.tsx';

const Line = ({ label, text }: { label: string; text: string }) => (text ? <p className="fact"><b>{label}</b> {text}</p> : null);

/** The name of what goes on, also while it is paused. */
export function titleOf(session: Session, v: View, said: Words): string {
  if (!v.paused || v.moving) return said.title;
  if (v.interval?.stations) return 'Stations';
  return v.movement ? movementName(session, v.movement) : sectionName(session.plan.sections[v.interval?.section ?? 0]);
}

interface Props {
  readonly session: Session;
  readonly v: View;
  readonly said: Words;
  readonly library: Library;
  /** What fits the people who are here, for what runs. */
  readonly fitting: readonly Fitting[];
}

export function About({ session, v, said, library, fitting }: Props) {
  const movement = v.movement ? library.movements.get(v.movement) : undefined;
  const stations = v.interval?.stations;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what is longer than its place is scrolled with keys too
    <section className="about"><div className="lines-of-it" tabIndex={0}>
      {stations ? (
        <>
          <Options of={fitting} name />
          <ol className="places">
            {[...stations.movements.entries()].map(([place, id]) => <li key={place}>{movementName(session, id)}</li>)}
          </ol>
        </>
      ) : (
        <>
          <Options of={fitting} />
          <Line label="Option" text={said.option} />
          <Line label="Look for" text={movement?.lookFor[0] ?? ''} />
          {movement?.cues.map((cue, i) => <Line key={cue} label={i === 0 ? 'Cue' : ''} text={cue} />)}
          {movement?.lookFor.slice(1).map((look) => <Line key={look} label="Look for" text={look} />)}
        </>
      )}
      {v.phase === 'talk' && <Line label="" text={[session.plan.note, session.plan.forCover].filter(Boolean).join(' ')} />}
    </div></section>
  );
}
