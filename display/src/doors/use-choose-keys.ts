/**
 * Owns choosing and starting a class with the keys at the screen, where no phone is: the
 * arrows lay out one plan of the studio after another, on this screen alone; the big key
 * starts the one that was laid out so, once it is the one that is shown. Leaves alone what a phone has laid out.
 */
import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { placeAt } from '../../../shared/session/place.ts';
import type { Language } from '../../../shared/words/language.ts';
import { ask } from '../ask.ts';
import { BIG_KEYS, DEAD_MS } from '../use-big-key.ts';

const STEPS: Readonly<Record<string, number>> = { ArrowDown: 1, ArrowRight: 1, PageUp: 1, ArrowUp: -1, ArrowLeft: -1 };

async function plansHere(): Promise<string[]> {
  const { plans } = await ask('/api/plans');
  return plans.filter((p) => p.problem === null).map((p) => p.id);
}

export interface ByKeys {
  /** The plan that the keys laid out; null where they laid out none. */
  readonly plan: string | null;
  /** Why it did not start, in a sentence of the language asked for. */
  readonly sentence: ((say: Language['say']) => string) | null;
}

/** `shown` is the id of the plan that stands on the screen. */
export function useChooseKeys(room: Room, stopped: boolean, shown: RefObject<string | null>): ByKeys {
  const latest = useRef({ room, stopped });
  latest.current = { room, stopped };
  const [plan, setPlan] = useState<string | null>(null);
  const [sentence, setSentence] = useState<{ readonly of: NonNullable<ByKeys['sentence']> } | null>(null);
  const say = useCallback((of: ByKeys['sentence']) => setSentence(of && { of }), []);
  const chosen = useRef<{ readonly plan: string | null; readonly at: number }>({ plan: null, at: Number.NEGATIVE_INFINITY });
  const at = room.now();
  const runs = room.session !== null && (at === null || placeAt(room.session, at).over === null);
  useEffect(() => {
    if (!runs) return;
    chosen.current = { plan: null, at: performance.now() };
    setPlan(null);
    say(null);
  }, [runs, say]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const step = STEPS[event.key] ?? 0;
      const starts = BIG_KEYS.has(event.key);
      const { room: r, stopped: no } = latest.current;
      const now = r.now();
      const busy = r.session !== null && (now === null || placeAt(r.session, now).over === null);
      if ((step === 0 && !starts) || busy || no || event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      const before = chosen.current;
      if (performance.now() - before.at < (starts ? DEAD_MS : 0)) return;
      if (starts && before.plan !== null) {
        if (shown.current !== before.plan) return;
        chosen.current = { ...before, at: performance.now() };
        void r.send({ type: 'start', plan: before.plan, freeAt: null }).then((sent) => say(sent.done ? null : ({ refused }) => refused[sent.reason] ?? sent.sentence));
        return;
      }
      void plansHere().then((ids) => {
        const index = chosen.current.plan === null ? (step < 0 ? 0 : -1) : ids.indexOf(chosen.current.plan);
        const next = ids[(index + (step || 1) + ids.length) % Math.max(1, ids.length)] ?? null;
        chosen.current = { plan: next, at: performance.now() };
        setPlan(next);
        say(next === null ? ({ doors }) => doors.noPlan : null);
      }).catch(() => say(({ doors }) => doors.noConnection));
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [say, shown]);
  return { plan, sentence: sentence?.of ?? null };
}
