/**
 * Owns setting up this screen where it hangs: its size, its height, the farthest mat, light,
 * margin and sound, and at once what can then be read from where. Read from close by, with
 * keys, a remote control or a mouse; what is set is kept on this screen.
 */
import { useEffect, useRef, useState } from 'react';
import { useLanguage } from '../../../shared/ui/language.ts';
import { unitPx } from '../../../shared/ui/wall/legibility.ts';
import { usePicture } from '../../../shared/ui/wall/picture.ts';
import { Delay } from '../doors/Delay.tsx';
import type { Heard } from '../doors/SoundPart.tsx';
import { GOOD_LOWER_EDGE_MM } from './own.ts';
import { HallPicture } from './HallPicture.tsx';
import { type Reach, reachOf } from './reach.ts';
import { rowsOf } from './rows.ts';
import type { SetUpWords } from '../../../shared/words/catalogue.ts';
import type { UseOwn } from './use-own.ts';
import './set-up.css';

interface SetUpProps {
  readonly own: UseOwn;
  readonly sound: Heard;
  /** Goes through the languages of this screen; without it none is offered. */
  readonly onLanguage?: (by: number) => void;
  readonly onClose: () => void;
}

const closes = new Set(['Enter', 'Escape']);
const upDown: Readonly<Record<string, number>> = { ArrowUp: -1, ArrowDown: 1 };
const sideways: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowRight: 1, '-': -1, '+': 1 };

export function SetUp({ own, sound, onLanguage, onClose }: SetUpProps) {
  const { width, height, unit: drawn, upright } = usePicture();
  const { say } = useLanguage();
  const { setUp: set } = say;
  // Whoever sets it up stands before it: the hall does not make this page larger.
  const unit = unitPx(width * drawn, height * drawn);
  const across = (width * drawn) / unit - 2 * SIDES;
  const rows = rowsOf({ own: own.own, change: own.change, sound: sound.settings, changeSound: sound.change, say, ...(onLanguage ? { onLanguage } : {}) });
  const [at, go] = useState(0);
  const [hears, hear] = useState(false);
  const latest = useRef({ rows, at, hears, onClose });
  latest.current = { rows, at, hears, onClose };
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const now = latest.current;
      if (now.hears || event.ctrlKey || event.metaKey || event.altKey) return;
      const move = upDown[event.key] ?? 0;
      const by = sideways[event.key] ?? 0;
      // Enter on a button that was reached with Tab presses it.
      const onButton = event.key === 'Enter' && document.activeElement instanceof HTMLButtonElement;
      if (onButton || (move === 0 && by === 0 && !closes.has(event.key))) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      if (move !== 0) go((now.at + move + now.rows.length) % now.rows.length);
      else if (by !== 0) now.rows[now.at]?.step(by);
      else if (!event.repeat) now.onClose();
    };
    window.addEventListener('keydown', onKey, true);
    return () => window.removeEventListener('keydown', onKey, true);
  }, []);
  const reach = reachOf(own.own);
  return (
    <section className="set-up" aria-label={set.label} style={{ '--u': `${unit}px` }}>
      <div className="set-up-rows">
        <h1>{set.title}</h1>
        <ul>
          {rows.map((row, k) => (
            <li key={row.id} data-at={k === at || undefined}>
              <span className="set-up-name">{row.name}</span>
              <button type="button" aria-label={set.less(row.name)} onClick={() => { go(k); row.step(-1); }}>&minus;</button>
              <output aria-label={row.name}>{row.says}</output>
              <button type="button" aria-label={set.more(row.name)} onClick={() => { go(k); row.step(1); }}>+</button>
            </li>
          ))}
        </ul>
        <div className="set-up-ends">
          <button type="button" disabled={sound.state !== 'on'} onClick={() => hear(true)}>{set.hear}</button>
          <button type="button" className="strong" onClick={onClose}>{set.done}</button>
        </div>
      </div>
      <div className="set-up-says">
        <HallPicture own={own.own} reach={reach} unit={unit} units={upright ? across : Math.min(SAYS, across - ROWS - 4)} most={upright ? 22 : 34} />
        {sentences(set, reach, own.own.lowerEdgeMm, own.own.farthestMatMm).map((s) => <p key={s}>{s}</p>)}
        <p className="set-up-help">{set.help}</p>
      </div>
      {hears && <Delay sound={sound} onClose={() => hear(false)} />}
    </section>
  );
}

/** Units: the margin beside the page, and the widths of its two parts, as in set-up.css. */
const SIDES = 4.6;
const ROWS = 70;
const SAYS = 92;
const MM = 1_000;

export function sentences(say: SetUpWords, reach: Reach, lowerEdgeMm: number, farthestMatMm: number): readonly string[] {
  const [far, words] = [farthestMatMm / MM, reach.wordsMm / MM];
  const read = reach.tooFar ? say.tooFar(words) : reach.fewer ? say.fewer(far) : say.all(far, words);
  const heads = reach.hiddenStanding === 0 && reach.hiddenSitting === 0 ? say.headsHideNothing : say.headsHide(reach.hiddenStanding, reach.hiddenSitting);
  const low = lowerEdgeMm < GOOD_LOWER_EDGE_MM ? [say.belongsAt(GOOD_LOWER_EDGE_MM / MM)] : [];
  return [read, heads, ...low];
}
