/**
 * Owns the stop of a room beside the log: from the instant it is pressed until the log of
 * the class that runs holds it, and for as long as no class runs or the disk does not
 * answer. It holds in memory at once, and is handed out to be kept, so that a restart finds
 * it; while it stands nothing starts, and it is led back only to a class that is paused.
 * Leaves alone the stop in the log (session/commands/stop.ts) and where it is kept.
 */
import { STALE_COMMAND_MS } from '../../shared/limits.ts';
import { answered, answerOf, isStopCommand, nothingYet, type StopCommand, stamped } from '../../shared/session/commands/stop.ts';
import { refuse } from '../../shared/session/refusal.ts';
import type { Stop } from '../../shared/session/session.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import { type Answer, type RoomCore, runs } from './room.ts';

export interface BesideStop extends Stop { readonly since: ServerAt }

export interface StoppableCore extends RoomCore {
  /** A stop that stands beside the class. */
  readonly beside: () => BesideStop | null;
  /** Another server of this room says what stands. */
  readonly adopt: (stop: BesideStop | null) => void;
}

interface Needs {
  readonly now: () => ServerAt;
  /** The stop beside the class changed: everybody is told at once. */
  readonly changed: () => void;
  /** As it was kept when the room was opened. */
  readonly kept?: BesideStop | null;
  /** Writes down what stands beside the log; resolves when that is done or cannot be. What is said of a stop is answered then. */
  readonly keep?: (stop: BesideStop | null) => Promise<void>;
}

/** Answers remembered, so that a message that arrives twice does not act twice. */
const ANSWERS_KEPT = 64;

export function withStop(core: RoomCore, { now, changed, kept = null, keep = async () => undefined }: Needs): StoppableCore {
  let stop: BesideStop | null = kept;
  /** While the log is asked to hold it. */
  let pressing: Promise<Answer> | null = null;
  const answers = new Map<string, Promise<Answer>>();
  const set = (next: BesideStop | null): void => {
    stop = next;
    changed();
  };
  const done = async (): Promise<Answer> => {
    await keep(stop);
    return { seq: core.log()?.events.length ?? 0 };
  };

  async function press(message: CommandMessage, receivedAt: ServerAt): Promise<Answer> {
    set({ ...nothingYet, since: receivedAt });
    const answer = await core.command(message, receivedAt);
    pressing = null;
    // Whatever hinders the log does not hinder the stop: then it stays beside it.
    if ('refused' in answer) return done();
    set(null);
    await keep(null);
    return answer;
  }

  async function beside(known: BesideStop, message: CommandMessage, command: StopCommand, receivedAt: ServerAt): Promise<Answer> {
    switch (command.type) {
      case 'stop': return done();
      case 'answer-stop': set({ ...known, ...answered(known, command.what) }); return done();
      case 'stamp-stop': set({ ...known, ...stamped(known, command.what, receivedAt) }); return done();
      case 'to-paused': {
        const session = core.session();
        if (session && runs(session, now()) && session.pause === null) {
          const paused = await core.command({ ...message, session: session.id, command: { type: 'pause', reason: null } }, receivedAt);
          if ('refused' in paused) return paused;
        }
        set(null);
        return done();
      }
    }
  }

  function take(message: CommandMessage, command: StopCommand, receivedAt: ServerAt): Promise<Answer> {
    if (message.saidAt !== null && receivedAt - message.saidAt > STALE_COMMAND_MS) return Promise.resolve(refuse('stale'));
    // What is said of a stop waits until it is known where it stands.
    if (pressing && command.type !== 'stop') return pressing.then(() => take(message, command, receivedAt));
    if (stop) return beside(stop, message, command, receivedAt);
    const session = core.session();
    const stands = session && runs(session, now()) && session.pause?.stop;
    if (command.type !== 'stop' || stands) return core.command(message, receivedAt);
    pressing = press(message, receivedAt);
    return pressing;
  }

  return {
    ...core,
    command: (message, receivedAt) => {
      const { command, id } = message;
      const known = answers.get(id);
      if (known) return known;
      // What came before the stop and arrives once more is answered as it was at first, not by the stop.
      const asEver = !isStopCommand(command) && (!stop || command.type === 'note' || command.type === 'head-count' || core.knows(id));
      if (asEver) return core.command(message, receivedAt);
      const answer = isStopCommand(command) ? take(message, command, receivedAt) : Promise.resolve(refuse('stopped'));
      answers.set(id, answer);
      const oldest = answers.keys().next();
      if (answers.size > ANSWERS_KEPT && !oldest.done) answers.delete(oldest.value);
      return answer;
    },
    beside: () => stop,
    // One that is just being pressed here is newer.
    adopt: (next) => { if (!pressing && JSON.stringify(next) !== JSON.stringify(stop)) set(next); },
  };
}

/** Whether a room is stopped, and for what; null where it is not. */
export function stoppedFor(core: Pick<StoppableCore, 'session' | 'beside'>, now: ServerAt): { readonly since: ServerAt; readonly answer: Stop['answer'] } | null {
  const beside = core.beside();
  if (beside) return { since: beside.since, answer: answerOf(beside, beside.since, now) };
  const session = core.session();
  const pause = runs(session, now) ? session?.pause : null;
  return pause?.stop ? { since: pause.since, answer: answerOf(pause.stop, pause.since, now) } : null;
}
