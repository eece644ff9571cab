/**
 * Owns one room: its queue, the class that runs in it, and what is sent of it.
 * Commands are taken one at a time; each is on disk before it counts. Time, the
 * store, timers and sending are handed in, so that a simulation runs this very
 * code. Leaves alone who may say what (may.ts) and how it travels (server).
 */
import { EVENTS_MAX, LINGER_MS, STALE_COMMAND_MS } from '../../shared/limits.ts';
import type { Facts, FactsOf } from '../../shared/plan/facts.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import type { Event } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve } from '../../shared/session/evolve.ts';
import { placeAt } from '../../shared/session/place.ts';
import { type Refusal, refuse } from '../../shared/session/refusal.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, between, later, type ServerAt } from '../../shared/time/units.ts';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import type { News } from '../../shared/wire/messages/news.ts';
import { meant } from './meant.ts';
import { type Answer, openQueue, type Waiting } from './queue.ts';
import { soon, surely } from './read-on.ts';
import { openRoomLog } from './room-log.ts';
import { NotUnderstood, type Row, type Store } from './store.ts';
import { overAt, summaryOf } from './summary.ts';

export type { Answer } from './queue.ts';

export interface RoomNeeds {
  readonly id: string;
  readonly store: Store;
  readonly now: () => ServerAt;
  /** Runs something once at an instant; gives the way to call it off. */
  readonly timer: (at: ServerAt, run: () => void) => () => void;
  /** Other servers write to the same log. */
  readonly shared?: boolean;
  readonly newId: () => string;
  /** A plan of the studio with the facts of its movements; null where there is none, a sentence where it is broken. */
  readonly plan: (id: string) => Promise<{ readonly plan: Plan; readonly facts: FactsOf } | { readonly broken: string } | null>;
  /** What is known of a movement of the library; null where there is none. */
  readonly movement: (id: string) => Promise<Facts | null>;
  /** What the shows of a plan usually take with this instructor, by movement; nothing where that is not known. */
  readonly estimates?: (plan: Plan, instructor: string | null) => Promise<Readonly<Record<string, number>>>;
  /** Tells everybody who has joined. @param from who decided it */
  readonly news: (news: News, from: 'here' | 'elsewhere') => void;
  /** The class came, went or ended: what is beside it may have changed. */
  readonly changed: () => void;
  /** Something to be written down for the studio. */
  readonly warn: (sentence: string) => void;
}

export interface RoomCore {
  readonly id: string;
  /** Takes a command that arrived at an instant; the answer comes when it is on disk or refused. */
  readonly command: (message: CommandMessage, receivedAt: ServerAt) => Promise<Answer>;
  /** The class with its whole log, as it is committed: always a prefix of the log. */
  readonly log: () => { readonly id: string; readonly events: readonly Event[] } | null;
  readonly session: () => Session | null;
  /** Whether this command has come before: acted, refused, or not answered yet. */
  readonly knows: (command: string) => boolean;
  /** Another server may have added to this room's log: it is read on, between two commands. */
  readonly readOn: () => void;
  /** Calls the timer off and takes no more commands; resolves when the one in flight is done. */
  readonly stop: () => Promise<void>;
}

/** Refusals that do not depend on what the log says. */
const whateverTheLog: ReadonlySet<Refusal['reason']> = new Set(['stale', 'not-stored', 'busy']);
/** So often at most a command is decided anew because another server was faster. */
const DECIDED_MOST = 50;

/** @param rows the log of the room's newest class, as the store gives it; null where it was set aside */
export function openRoom(needs: RoomNeeds, rows: readonly Row[] | null): RoomCore {
  const { id, store, now } = needs;
  const log = openRoomLog(rows);
  const queue = openQueue({ now, timer: needs.timer, acted: log.done });
  let working: Promise<void> | null = null;
  let stopped = false;
  let callOff = () => {};
  let behind = false;
  /** The last append failed: the next may as well. */
  let failing = false;

  /** A class that is there already is shown as it stands now. */
  const settle = () => {
    const session = log.session();
    if (!session) return;
    const over = overAt(session);
    if (over.at <= now()) close();
    else setTimer();
    if (after(over.at, LINGER_MS) <= now()) leave();
  };

  /** One timer: for the instant at which the class is over, then for the one at which it leaves the screens. */
  const setTimer = () => {
    callOff();
    const session = log.session();
    if (!session || stopped) return;
    const over = overAt(session);
    callOff = now() < over.at ? needs.timer(over.at, close) : needs.timer(after(over.at, LINGER_MS), leave);
  };
  const close = () => {
    const session = log.session();
    if (!session || now() < overAt(session).at) return setTimer();
    void store.close(summaryOf(session, now())).then((stored) => {
      if (!stored) needs.warn(`the end of class ${session.id} could not be written down; it will be at the next start`);
    });
    setTimer();
    needs.changed();
  };
  const leave = () => {
    if (working) { callOff = needs.timer(after(now(), 1_000), leave); return; }
    log.leave();
    needs.changed();
  };

  async function answer(waiting: Waiting): Promise<Answer> {
    let sure = !needs.shared;
    for (let tries = 0; tries < DECIDED_MOST; tries += 1) {
      const answered = await answerOnce(waiting);
      if (answered === 'taken') {
        await catchUp();
        continue;
      }
      const refusal = answered !== 'nothing' && 'refused' in answered ? answered.refused : null;
      // What adds nothing says so of the newest log, and not of as much as this server has heard.
      if (!sure && (answered === 'nothing' || (refusal && !whateverTheLog.has(refusal.reason) && refusal !== queue.refused(waiting.message.id)))) {
        sure = true;
        if (heard(await soon(() => store.latest(id, log.known()), needs))) continue;
      }
      if (answered !== 'nothing') return answered;
      log.answered(waiting.message.id);
      return { seq: log.events().length };
    }
    return refuse('busy');
  }

  /** Takes what another server has added; whether there was anything. */
  function heard(found: readonly Row[]): boolean {
    const fresh = log.read(found);
    if (!fresh) return false;
    needs.news({ session: fresh.session, seq: log.events().length, events: log.events().slice(fresh.from) }, 'elsewhere');
    needs.changed();
    settle();
    return true;
  }
  async function catchUp(): Promise<void> {
    behind = false;
    heard(await surely(() => store.latest(id, log.known()), needs, () => stopped));
  }

  /** What is said again of a class that has gone may have acted then, here or through another server: its log knows. */
  async function actedBefore({ id: command, session: of }: CommandMessage): Promise<Answer | null> {
    const before = of === null || of === log.session()?.id ? [] : await surely(() => store.log(of), needs, () => stopped);
    const seq = before.findLast((row) => row.command === command)?.seq;
    return seq === undefined ? null : { seq };
  }

  async function answerOnce(waiting: Waiting): Promise<Answer | 'taken' | 'nothing'> {
    const { message, receivedAt } = waiting;
    const seq = log.done(message.id);
    if (seq !== undefined) return { seq };
    const before = queue.refused(message.id);
    if (before) return { refused: before };
    const heldBackMs = message.saidAt === null ? 0 : receivedAt - message.saidAt;
    if (Math.max(between(receivedAt, now()), heldBackMs) > STALE_COMMAND_MS) return refuse('stale');
    const session = log.session();
    const command = await meant(needs, waiting.message, session);
    if ('refused' in command) return (await actedBefore(message)) ?? command;
    const decided = decide(session, command, session ? later(receivedAt, session.lastAt) : receivedAt);
    if ('refused' in decided) return decided;
    if (decided.events.length === 0) return 'nothing';
    return append(message.id, decided.events);
  }

  async function append(command: string, more: readonly Event[]): Promise<Answer | 'taken'> {
    const starts = more[0]?.type === 'started';
    const base = starts ? [] : log.events();
    if (base.length + more.length > EVENTS_MAX && more[0]?.type !== 'ended') {
      return refuse('not-stored', 'This class has had too many changes to keep. It goes on; only its end can still be written.');
    }
    const next = more.reduce<Session | null>(evolve, starts ? null : log.session());
    const newest = log.newest();
    if (!next) throw new Error('events that lead to no class');
    const seq = base.length + more.length;
    const outcome = await store.append({ summary: summaryOf(next, next.lastAt), seq: base.length + 1, command, events: more, ...(starts && newest !== undefined ? { after: newest } : {}) });
    failing = outcome === 'failed';
    switch (outcome) {
      case 'taken': return 'taken';
      case 'failed': return refuse('not-stored');
      case 'unknown': {
        // The same command may have acted through another server, decided there at another instant: what stands in the log counts.
        const found = await surely(() => store.log(next.id, base.length), needs, () => stopped);
        if (!found.some((row) => row.command === command)) return refuse('not-stored');
        heard(found);
        return { seq: log.done(command) ?? seq };
      }
      case 'stored': break;
    }
    log.add(command, more, next);
    needs.news({ session: next.id, seq, events: [...more] }, 'here');
    setTimer();
    needs.changed();
    return { seq };
  }

  async function pump(): Promise<void> {
    for (;;) {
      while (behind) await catchUp().catch((error: unknown) => { needs.warn(`what another server wrote cannot be read: ${String(error)}`); });
      const waiting = queue.next(failing);
      if (!waiting) break;
      queue.answer(waiting, await answer(waiting).catch((error: unknown) => {
        needs.warn(`a command could not be worked out: ${String(error)}`);
        return refuse(error instanceof NotUnderstood ? 'not-stored' : 'bad-message');
      }));
    }
    working = null;
  }

  settle();

  return {
    id,
    command: (message, receivedAt) => {
      const answers = queue.put(message, receivedAt);
      if (!stopped) working ??= pump();
      return answers;
    },
    log: () => {
      const session = log.session();
      return session && { id: session.id, events: log.events() };
    },
    session: log.session,
    knows: (command) => log.done(command) !== undefined || queue.refused(command) !== undefined || queue.has(command),
    readOn: () => {
      behind = true;
      if (!stopped) working ??= pump();
    },
    stop: async () => {
      stopped = true;
      callOff();
      queue.close();
      await working;
    },
  };
}

/** Whether a class runs in this session at an instant. */
export const runs = (session: Session | null, at: ServerAt): boolean => session !== null && placeAt(session, at).over === null;
