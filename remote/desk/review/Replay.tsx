/**
 * Owns the replay: the floor as it was walked, and above it the screen at the instant that
 * is dragged to, drawn by what draws the wall. Nothing is stored for it: it is the view of
 * the log up to there. Arrow keys go a second, with Shift ten; Page keys a minute.
 */
import { type KeyboardEvent, type PointerEvent, useMemo, useState } from 'react';
import type { Event } from '../../../shared/session/command.ts';
import { evolve } from '../../../shared/session/evolve.ts';
import type { Session } from '../../../shared/session/session.ts';
import { after, type ServerAt } from '../../../shared/time/units.ts';
import { unitPx } from '../../../shared/ui/wall/legibility.ts';
import { PictureProvider } from '../../../shared/ui/wall/picture.ts';
import { Scene } from '../../../shared/ui/wall/Scene.tsx';
import type { Report } from '../../../shared/view/report.ts';
import { view } from '../../../shared/view/view.ts';
import { clockTime, lengthWords, words } from '../../../shared/view/words.ts';
import { useLibrary } from '../../common/library.ts';
import { FactFloor } from '../Floors.tsx';
import { useWidth } from './use-width.ts';

interface ReplayProps { readonly report: Report; readonly events: readonly Event[]; readonly timeZone: string }

const SECOND_MS = 1_000;
const steps: Readonly<Record<string, number>> = { ArrowRight: SECOND_MS, ArrowUp: SECOND_MS, ArrowLeft: -SECOND_MS, ArrowDown: -SECOND_MS, PageUp: 60 * SECOND_MS, PageDown: -60 * SECOND_MS };

/** The class after each of its events, so that any instant is found by the newest before it. */
function states(events: readonly Event[]): Session[] {
  const out: Session[] = [];
  for (const event of events) out.push(evolve(out.at(-1) ?? null, event));
  return out;
}

export function Replay({ report: r, events, timeZone }: ReplayProps) {
  const all = useMemo(() => states(events), [events]);
  const [atMs, setAtMs] = useState(() => Math.min(r.totalMs, Math.round(r.totalMs * 0.4)));
  const [place, width] = useWidth();
  const library = useLibrary(null);
  const at = after(r.session.startedAt, atMs);
  const session = all.findLast((s) => s.lastAt <= at) ?? all[0];
  if (!session) return null;
  const v = view(session, at);
  const w = words(session, v);
  const height = (width * 9) / 16;
  const unit = unitPx(width, height);
  const go = (ms: number) => setAtMs(Math.round(Math.min(r.totalMs, Math.max(0, ms))));
  const drag = (e: PointerEvent<HTMLDivElement>) => {
    if (e.type === 'pointerdown') e.currentTarget.setPointerCapture(e.pointerId);
    else if (e.buttons === 0) return;
    const box = e.currentTarget.getBoundingClientRect();
    go(((e.clientX - box.left) / Math.max(1, box.width)) * r.totalMs);
  };
  const key = (e: KeyboardEvent) => {
    const step = steps[e.key];
    const to = e.key === 'Home' ? 0 : e.key === 'End' ? r.totalMs : step === undefined ? null : atMs + step * (e.shiftKey ? 10 : 1);
    if (to === null) return;
    e.preventDefault();
    go(to);
  };
  const now = (): ServerAt => at;
  const said = `${clockTime(at, timeZone)}, ${lengthWords(Math.floor(atMs / SECOND_MS) * SECOND_MS)} in`;
  return (
    <section className="replay-part">
      <h2>What the screen showed</h2>
      <div className="replay" ref={place}>
        <div className="replay-wall" aria-hidden="true">
          <PictureProvider value={{ unit, width: width / unit, height: height / unit, upright: false, far: false }}>
            <div className="wall" style={{ '--u': `${unit}px` }}>
              <Scene session={session} view={v} words={w} corner={w.corner} library={library.movements} timeZone={timeZone} alone={false} now={now} />
            </div>
          </PictureProvider>
        </div>
        <div
          className="long-floor" role="slider" tabIndex={0} aria-label="Instant of the class" aria-valuemin={0} aria-valuemax={Math.round(r.totalMs / SECOND_MS)}
          aria-valuenow={Math.round(atMs / SECOND_MS)} aria-valuetext={`${said}: ${v.paused ? 'paused, ' : ''}${w.title} ${w.line}`} onPointerDown={drag} onPointerMove={drag} onKeyDown={key}
        >
          <FactFloor report={r} />
          <div className="replay-now" style={{ left: `${(atMs / Math.max(1, r.totalMs)) * 100}%` }} />
        </div>
        <p className="replay-says"><span><b>{said}</b></span><span className="quiet-words">Drag along the floor, or use the arrow keys.</span></p>
      </div>
    </section>
  );
}
