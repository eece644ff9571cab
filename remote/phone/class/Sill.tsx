/** Owns the class without a screen: the phone stands on the windowsill, its digits large enough for a small room. */
import type { Session } from '../../../shared/session/session.ts';
import type { View } from '../../../shared/view/view.ts';
import type { Words } from '../../../shared/view/words.ts';
import { titleOf } from './About.tsx';
import { wordOf } from './Picture.tsx';

interface Props {
  readonly session: Session;
  readonly v: View;
  readonly said: Words;
  readonly onClose: () => void;
}

export function Sill({ session, v, said, onClose }: Props) {
  const counted = v.seconds !== null && v.paused === null;
  const title = v.paused ? said.title : titleOf(session, v, said);
  const limb = v.paused ? '' : v.phase === 'rest' ? 'rest' : said.line;
  return (
    <section className="sill" data-works={v.phase === 'work' && v.paused === null}>
      <h2>{title}</h2>
      {counted ? <p className="sill-digits" data-many={(v.seconds ?? 0) > 99}>{v.seconds}</p> : <p className="sill-word">{wordOf(v) === title ? '' : wordOf(v)}</p>}
      <p className="sill-line">{limb || said.option}</p>
      {v.next && !v.paused && <p className="sill-next"><b>{said.nextLabel}</b> {said.next}</p>}
      <button type="button" className="control sill-close" onClick={onClose}>Small</button>
    </section>
  );
}
