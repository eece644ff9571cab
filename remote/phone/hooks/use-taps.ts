/**
 * Owns what becomes of a tap: it is answered at once (pressed), sent once, and
 * confirmed by the server or refused with a sentence. Nothing is kept for later.
 */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';

export interface Taps {
  /** Names of the controls whose tap is on its way. */
  readonly sending: ReadonlySet<string>;
  /** The control whose tap was just confirmed. */
  readonly done: string | null;
  readonly sentence: string | null;
  readonly say: (sentence: string | null) => void;
  /** Resolves to whether it was done. */
  readonly tap: (name: string, command: Parameters<Room['send']>[0]) => Promise<boolean>;
}

const DONE_MS = 700;
/** Long enough to read a sentence at a glance between two cues. */
const SENTENCE_MS = 7_000;
const BUZZ_MS = 25;

const buzz = (): void => { if ('vibrate' in navigator) navigator.vibrate(BUZZ_MS); };

export function useTaps(room: Room): Taps {
  const [sending, setSending] = useState<ReadonlySet<string>>(new Set());
  const [done, setDone] = useState<string | null>(null);
  const [sentence, say] = useState<string | null>(null);
  const busy = useRef(new Set<string>());
  const { send } = room;

  useEffect(() => {
    if (done === null) return;
    const timer = setTimeout(() => setDone(null), DONE_MS);
    return () => clearTimeout(timer);
  }, [done]);
  useEffect(() => {
    if (sentence === null) return;
    const timer = setTimeout(() => say(null), SENTENCE_MS);
    return () => clearTimeout(timer);
  }, [sentence]);

  const tap = useCallback<Taps['tap']>(async (name, command) => {
    if (busy.current.has(name)) return false;
    busy.current.add(name);
    setSending(new Set(busy.current));
    const sent = await send(command);
    busy.current.delete(name);
    setSending(new Set(busy.current));
    if (sent.done) {
      buzz();
      setDone(name);
      say(null);
    } else say(sent.sentence);
    return sent.done;
  }, [send]);
  return { sending, done, sentence, say, tap };
}
