/**
 * Owns setting this screen's own correction by eye and ear: a mark crosses a line, and a
 * tone sounds in that moment. Kept on this screen, since its loudspeaker is.
 */
import { useCallback, useEffect, useRef } from 'react';
import { CORRECTION_MOST_MS } from '../../../shared/sound/settings.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';
import type { SoundWords } from '../../../shared/words/catalogue.ts';
import type { Heard } from './SoundPart.tsx';
import './delay.css';

/** One crossing every so often: longer than twice the greatest correction, so that a tone is never taken for the next one. */
const BEAT_MS = 1_400;
/** A tone is put on the audio clock so long before: enough for a slow machine and the greatest correction. */
const AHEAD_MS = 700;
const STEP_MS = 10;
/** What eyes and ears notice starts at some 45 ms (ITU-R BT.1359); fives are as fine as anybody can set it. */
const FINE_MS = 5;

const keys = new Set(['Enter', ' ', 'Escape']);
/** How far a key moves it; null is back to nothing. */
const moves = new Map<string, number | null>([['ArrowLeft', -STEP_MS], ['ArrowRight', STEP_MS], ['ArrowDown', -FINE_MS], ['ArrowUp', FINE_MS], ['0', null]]);

const words = (ms: number, say: SoundWords): string => (ms === 0 ? say.asItIs : ms > 0 ? say.earlier(ms) : say.later(-ms));

export function Delay({ sound, onClose }: { sound: Heard; onClose: () => void }) {
  const mark = useRef<HTMLDivElement>(null);
  const { sound: say } = useLanguage().say;
  const { correctionMs } = sound.settings;
  const latest = useRef(sound);
  latest.current = sound;
  const move = useCallback((ms: number) => {
    const { change, settings } = latest.current;
    change({ correctionMs: Math.min(CORRECTION_MOST_MS, Math.max(-CORRECTION_MOST_MS, settings.correctionMs + ms)) });
  }, []);

  useEffect(() => {
    let frame = 0;
    let callOff = () => {};
    let beat = Math.ceil(performance.now() / BEAT_MS);
    const draw = () => {
      const now = performance.now();
      if (beat * BEAT_MS - now < AHEAD_MS) {
        callOff = latest.current.at('three', beat * BEAT_MS);
        beat += 1;
      }
      // The line is in the middle; the mark is on it at each beat.
      const share = (now / BEAT_MS + 0.5) % 1;
      mark.current?.style.setProperty('--at', String(share));
      frame = requestAnimationFrame(draw);
    };
    frame = requestAnimationFrame(draw);
    return () => {
      cancelAnimationFrame(frame);
      callOff();
    };
  }, []);

  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const run = keys.has(event.key) ? onClose : moves.has(event.key) ? () => move(moves.get(event.key) ?? -latest.current.settings.correctionMs) : null;
      if (!run || event.ctrlKey || event.metaKey || event.altKey) return;
      // While this is open no key means anything else.
      event.preventDefault();
      event.stopImmediatePropagation();
      run();
    };
    window.addEventListener('keydown', onKey, true);
    return () => window.removeEventListener('keydown', onKey, true);
  }, [move, onClose]);

  return (
    <section className="delay" aria-label={say.lateOrEarly}>
      <Fit className="delay-title" text={say.asMarkOnLine} most={9} lines={2} />
      <div className="delay-lane" aria-hidden="true">
        <div className="delay-line" />
        <div className="delay-mark" ref={mark} />
      </div>
      <p className="delay-now" role="status">{words(correctionMs, say)}</p>
      <div className="delay-keys">
        <button type="button" disabled={correctionMs <= -CORRECTION_MOST_MS} onClick={() => move(-STEP_MS)}>{say.early}</button>
        <button type="button" onClick={onClose}>{say.together}</button>
        <button type="button" disabled={correctionMs >= CORRECTION_MOST_MS} onClick={() => move(STEP_MS)}>{say.late}</button>
      </div>
      <p className="delay-help">{say.inTimeHelp}</p>
    </section>
  );
}
