/**
 * Owns what the instructor can do now: the one big thing, and which of the others
 * would be taken. It asks `decide`, so a control and its refusal cannot disagree.
 */
import type { RunningCommand } from '../session/command.ts';
import { easyFromAt } from '../session/commands/keep-moving.ts';
import { decide } from '../session/decide.ts';
import { type Owed, owedSide } from '../session/ledger.ts';
import type { Session } from '../session/session.ts';
import type { ServerAt } from '../time/units.ts';
import { view } from './view.ts';

export interface Controls {
  /** The one thing to do now; null when the class is over. */
  readonly big: Extract<RunningCommand, { type: 'go' | 'pause' | 'carry-on' }> | null;
  readonly ready: RunningCommand | null;
  readonly wait: RunningCommand | null;
  readonly again: RunningCommand | null;
  readonly more: RunningCommand | null;
  readonly less: RunningCommand | null;
  readonly changeSides: RunningCommand | null;
  readonly moveOn: RunningCommand | null;
  /** Everybody keeps moving, for as long as it takes. */
  readonly keepMoving: RunningCommand | null;
  /** The same, where the room has stood so long that it should move before it carries on. */
  readonly easyFirst: RunningCommand | null;
  readonly stop: RunningCommand | null;
  /** The way back from a stop, and "it was a slip". */
  readonly toPaused: RunningCommand | null;
  readonly evenUp: { readonly command: RunningCommand; readonly owed: Owed } | null;
}

/** Ten more seconds, as instructors say it. */
export const TEN_MS = 10_000;

export function controls(session: Session, at: ServerAt): Controls {
  const v = view(session, at);
  const { occurrence } = v;
  const able = <C extends RunningCommand>(command: C): C | null => ('refused' in decide(session, command, v.at) ? null : command);
  const owed = owedSide(session, v.at);
  const easyFrom = easyFromAt(session);
  const keepMoving = v.moving ? null : able({ type: 'keep-moving' });
  return {
    big: v.phase === 'over' || v.stopped ? null
      : v.paused ? { type: 'carry-on', pause: v.paused.number }
        : v.waits ? { type: 'go', occurrence }
          : { type: 'pause', reason: null },
    ready: v.waits ? null : able({ type: 'go', occurrence }),
    wait: able({ type: 'wait', occurrence }),
    again: able({ type: 'again', occurrence }),
    more: able({ type: 'extend', occurrence, byMs: TEN_MS }),
    less: able({ type: 'shorten', occurrence, byMs: TEN_MS }),
    changeSides: able({ type: 'change-sides', occurrence }),
    moveOn: able({ type: 'move-on', occurrence }),
    keepMoving,
    easyFirst: easyFrom !== null && v.at > easyFrom ? keepMoving : null,
    stop: v.stopped ? null : able({ type: 'stop' }),
    toPaused: able({ type: 'to-paused' }),
    evenUp: owed && !v.stopped ? { command: { type: 'even-up', pair: owed.pair }, owed } : null,
  };
}
