/**
 * Owns fetching clock samples when the estimate asks for them: in a burst on
 * joining and on waking, then ever more seldom. Leaves alone what is made of the
 * answers (estimate.ts) and how they travel.
 */
import type { SampleReply } from '../wire/messages/sample.ts';
import type { DeviceClock } from './device-clock.ts';
import type { Estimate } from './estimate.ts';

/** An answer that takes longer tells nothing any more. */
const ANSWER_MS = 1_500;
/** So many questions in a row without an answer: the connection only looks alive. */
const DEAD_AFTER = 2;

export interface Sampling {
  /** Begins afresh with a burst. */
  readonly burst: () => void;
  /** The estimate wants a sample sooner than it did. */
  readonly hurry: () => void;
  readonly stop: () => void;
}

/** @param dead called when the connection only looks alive */
export function sampling(clock: DeviceClock, estimate: Estimate, ask: (limitMs: number) => Promise<SampleReply>, dead: () => void): Sampling {
  let callOff = () => {};
  let turn = 0;
  let unanswered = 0;
  let going = false;

  const plan = () => {
    callOff();
    callOff = clock.afterMs(estimate.nextMs(), () => { void one(turn); });
  };
  const one = async (mine: number): Promise<void> => {
    const sentAt = estimate.asked();
    const asking = ask(ANSWER_MS);
    plan();
    try {
      const reply = await asking;
      if (mine !== turn) return;
      unanswered = 0;
      estimate.answered(sentAt, reply);
      plan();
    } catch {
      if (mine !== turn) return;
      unanswered += 1;
      if (unanswered === DEAD_AFTER) return dead();
      // One may be lost; the next one tells, and must not wait until it is due.
      callOff();
      if (unanswered < DEAD_AFTER) void one(mine);
    }
  };
  const stop = () => {
    turn += 1;
    unanswered = 0;
    going = false;
    callOff();
  };

  return {
    burst: () => {
      stop();
      going = true;
      estimate.joined();
      plan();
    },
    hurry: () => { if (going) plan(); },
    stop,
  };
}
