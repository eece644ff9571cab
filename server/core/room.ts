/**
 * Owns one room: its queue, the class that runs in it, and what is sent of it.
 * Commands are taken one at a time; each is on disk before it counts. Time, the
 * store, timers and sending are handed in, so that a simulation runs this very
 * code. Leaves alone who may say what (may.ts) and how it travels (server).
 */
import { EVENTS_MAX, LINGER_MS, ROOM_QUEUE_MAX, STALE_COMMAND_MS } from '../../shared/limits.ts';
import type { Facts, FactsOf } from '../../shared/plan/facts.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import type { Event } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve, replay } from '../../shared/session/evolve.ts';
import { placeAt } from '../../shared/session/place.ts';
import { type Refusal, refuse } from '../../shared/session/refusal.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, between, later, type ServerAt } from '../../shared/time/units.ts';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import type { News } from '../../shared/wire/messages/news.ts';
import { meant } from './meant.ts';
import { newIn, surely } from './read-on.ts';
import { NotUnderstood, type Row, type Store } from './store.ts';
import { overAt, summaryOf } from './summary.ts';

export type Answer = { readonly seq: number } | { readonly refused: Refusal };

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

type Waiting = { readonly message: CommandMessage; readonly receivedAt: ServerAt; readonly answer: (answer: Answer) => void };

/** Refusals, and answers of the class before, remembered so that a message that arrives twice is not taken the second time. */
const ANSWERS_KEPT = 256;
/** So often at most a command is decided anew because another server was faster. */
const DECIDED_MOST = 50;

/** @param rows the log of the room's newest class, as the store gives it; null where it was set aside */
export function openRoom(needs: RoomNeeds, rows: readonly Row[] | null): RoomCore {
  const { id, store, now } = needs;
  const queue: Waiting[] = [];
  let events: readonly Event[] = [];
  let session: Session | null = null;
  /** Answers by command id; those of the log can be made again from it. */
  let done = new Map<string, number>();
  const refused = new Map<string, Refusal>();
  let inHand: string | null = null;
  let working: Promise<void> | null = null;
  let stopped = false;
  let callOff = () => {};
  /** The newest class that the log has; nothing is known where one was set aside. */
  let newest: string | null | undefined = rows === null ? undefined : null;
  let behind = false;

  const take = (log: readonly Row[]) => {
    events = log.map((row) => row.event);
    session = replay(events);
    done = new Map(log.map((row) => [row.command, row.seq]));
    if (session) newest = session.id;
  };
  /** A class that is there already is shown as it stands now. */
  const settle = () => {
    if (!session) return;
    const over = overAt(session);
    if (over.at <= now()) close();
    else setTimer();
    if (after(over.at, LINGER_MS) <= now()) leave();
  };

  /** One timer: for the instant at which the class is over, then for the one at which it leaves the screens. */
  const setTimer = () => {
    callOff();
    if (!session || stopped) return;
    const over = overAt(session);
    callOff = now() < over.at ? needs.timer(over.at, close) : needs.timer(after(over.at, LINGER_MS), leave);
  };
  const close = () => {
    if (!session || now() < overAt(session).at) return setTimer();
    void store.close(summaryOf(session, now())).then((stored) => {
      if (!stored) needs.warn(`the end of class ${session?.id ?? ''} could not be written down; it will be at the next start`);
    });
    setTimer();
    needs.changed();
  };
  const leave = () => {
    if (working) { callOff = needs.timer(after(now(), 1_000), leave); return; }
    session = null;
    events = [];
    needs.changed();
  };

  async function answer(waiting: Waiting): Promise<Answer> {
    for (let tries = 0; tries < DECIDED_MOST; tries += 1) {
      const answered = await answerOnce(waiting);
      if (answered !== 'taken') return answered;
      await catchUp();
    }
    return refuse('busy');
  }

  async function catchUp(): Promise<void> {
    behind = false;
    const read = await surely(() => store.latest(id), needs);
    const fresh = newIn(read, { id: newest ?? null, events: events.length });
    if (!fresh || (session === null && fresh.session === newest)) return;
    take(read);
    needs.news({ session: fresh.session, seq: events.length, events: events.slice(fresh.from) }, 'elsewhere');
    needs.changed();
    settle();
  }

  /** What is said again of a class that has gone may have acted then, here or through another server: its log knows. */
  async function actedBefore({ id: command, session: of }: CommandMessage): Promise<Answer | null> {
    const rows = of === null || of === session?.id ? [] : await surely(() => store.log(of), needs);
    const seq = rows.findLast((row) => row.command === command)?.seq;
    return seq === undefined ? null : { seq };
  }

  async function answerOnce(waiting: Waiting): Promise<Answer | 'taken'> {
    const { message, receivedAt } = waiting;
    const seq = done.get(message.id);
    if (seq !== undefined) return { seq };
    const before = refused.get(message.id);
    if (before) return { refused: before };
    const heldBackMs = message.saidAt === null ? 0 : receivedAt - message.saidAt;
    if (Math.max(between(receivedAt, now()), heldBackMs) > STALE_COMMAND_MS) return refuse('stale');
    const command = await meant(needs, waiting.message, session);
    if ('refused' in command) return (await actedBefore(message)) ?? command;
    const decided = decide(session, command, session ? later(receivedAt, session.lastAt) : receivedAt);
    if ('refused' in decided) return decided;
    if (decided.events.length === 0) {
      done.set(message.id, events.length);
      return { seq: events.length };
    }
    return append(message.id, decided.events);
  }

  async function append(command: string, more: readonly Event[]): Promise<Answer | 'taken'> {
    const starts = more[0]?.type === 'started';
    const base = starts ? [] : events;
    if (base.length + more.length > EVENTS_MAX && more[0]?.type !== 'ended') {
      return refuse('not-stored', 'This class has had too many changes to keep. It goes on; only its end can still be written.');
    }
    const next = more.reduce<Session | null>(evolve, starts ? null : session);
    if (!next) throw new Error('events that lead to no class');
    const seq = base.length + more.length;
    const outcome = await store.append({ summary: summaryOf(next, next.lastAt), seq: base.length + 1, command, events: more, ...(starts && newest !== undefined ? { after: newest } : {}) });
    switch (outcome) {
      case 'taken': return 'taken';
      case 'failed': return refuse('not-stored');
      case 'unknown': {
        if (!(await surely(() => store.log(next.id), needs)).some((row) => row.command === command)) return refuse('not-stored');
        break;
      }
      case 'stored': break;
    }
    session = next;
    newest = next.id;
    events = [...base, ...more];
    // What the class before was told stays told for a while: its last messages may still arrive twice.
    if (starts) done = new Map([...done].slice(-ANSWERS_KEPT));
    done.set(command, seq);
    needs.news({ session: next.id, seq, events: [...more] }, 'here');
    setTimer();
    needs.changed();
    return { seq };
  }

  async function pump(): Promise<void> {
    for (;;) {
      while (behind) await catchUp().catch((error: unknown) => { needs.warn(`what another server wrote cannot be read: ${String(error)}`); });
      const waiting = queue.shift();
      if (!waiting) break;
      inHand = waiting.message.id;
      const result = await answer(waiting).catch((error: unknown) => {
        needs.warn(`a command could not be worked out: ${String(error)}`);
        return refuse(error instanceof NotUnderstood ? 'not-stored' : 'bad-message');
      });
      if ('refused' in result) {
        refused.set(waiting.message.id, result.refused);
        const oldest = refused.keys().next();
        if (refused.size > ANSWERS_KEPT && !oldest.done) refused.delete(oldest.value);
      }
      inHand = null;
      waiting.answer(result);
    }
    working = null;
  }

  take(rows ?? []);
  settle();

  return {
    id,
    command: (message, receivedAt) => {
      if (stopped || queue.length >= ROOM_QUEUE_MAX) return Promise.resolve(refuse('busy'));
      return new Promise((resolve) => {
        queue.push({ message, receivedAt, answer: resolve });
        working ??= pump();
      });
    },
    log: () => (session ? { id: session.id, events } : null),
    session: () => session,
    knows: (command) => done.has(command) || refused.has(command) || inHand === command || queue.some((w) => w.message.id === command),
    readOn: () => {
      behind = true;
      if (!stopped) working ??= pump();
    },
    stop: async () => {
      stopped = true;
      callOff();
      for (const waiting of queue.splice(0)) waiting.answer(refuse('busy'));
      await working;
    },
  };
}

/** Whether a class runs in this session at an instant. */
export const runs = (session: Session | null, at: ServerAt): boolean => session !== null && placeAt(session, at).over === null;
