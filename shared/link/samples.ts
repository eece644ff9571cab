/**
 * Owns when the server is asked for its time: in a burst on joining and on
 * waking, then ever more seldom. Leaves alone what is made of the answers
 * (shared/time) and how they travel.
 */
import type { SampleReply } from '../wire/messages/sample.ts';
import type { DeviceClock } from './device-clock.ts';
import type { Estimate } from './estimate.ts';

/** So many, so far apart: the first answer is right to half its delay, the best of them much better. */
const BURST = 8;
const BURST_APART_MS = 30;
/** Then after 2, 4, 8 s and so on, up to this. */
const FIRST_APART_MS = 2_000;
const MOST_APART_MS = 16_000;
/** An answer that takes longer tells nothing any more. */
const ANSWER_MS = 1_500;

export interface Sampling {
  /** Begins afresh with a burst. */
  readonly burst: () => void;
  readonly stop: () => void;
}

/** @param dead called when two questions in a row had no answer: the connection only looks alive */
export function sampling(clock: DeviceClock, estimate: Estimate, ask: (limitMs: number) => Promise<SampleReply>, dead: () => void): Sampling {
  let callOff = () => {};
  let turn = 0;
  let unanswered = 0;

  const next = (count: number, mine: number) => {
    const apartMs = count < BURST ? BURST_APART_MS : Math.min(MOST_APART_MS, FIRST_APART_MS * 2 ** (count - BURST));
    callOff = clock.afterMs(apartMs, () => { void one(count, mine); });
  };
  const one = async (count: number, mine: number): Promise<void> => {
    const sentAt = clock.now();
    next(count + 1, mine);
    try {
      const { receivedAt, sentAt: repliedAt } = await ask(ANSWER_MS);
      if (mine !== turn) return;
      unanswered = 0;
      estimate.add({ sentAt, receivedAt, repliedAt, arrivedAt: clock.now() });
    } catch {
      if (mine !== turn) return;
      unanswered += 1;
      if (unanswered === 2) dead();
    }
  };

  const stop = () => {
    turn += 1;
    unanswered = 0;
    callOff();
  };
  return {
    burst: () => {
      stop();
      void one(1, turn);
    },
    stop,
  };
}
