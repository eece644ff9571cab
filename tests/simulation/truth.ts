/**
 * Owns what must hold whatever happens: of each command, of each log, of each
 * screen at each look. It sees the whole world at once, which nobody in it does.
 * The numbers in the failures are those of the rule book.
 */
import { isDeepStrictEqual } from 'node:util';
import type { Batch } from '../../server/core/store.ts';
import { COMMAND_ANSWER_MS, STALE_COMMAND_MS } from '../../shared/limits.ts';
import type { Room, Sent } from '../../shared/link/types.ts';
import { evolve, replay } from '../../shared/session/evolve.ts';
import { placeAt } from '../../shared/session/place.ts';
import type { Session } from '../../shared/session/session.ts';
import type { CommandMessage, CommandReply } from '../../shared/wire/messages/command.ts';
import type { Kept } from './kept.ts';
import { classHolds } from './ledger.ts';
import type { Server } from './server.ts';

/** What may be so already, or stands beside the log where the log cannot take it (server/core/room-stop.ts). */
const mayAddNothing: ReadonlySet<string> = new Set(['pause', 'keep-moving', 'stop', 'answer-stop', 'stamp-stop', 'to-paused']);

/** The world as it is truly. */
export interface Facts {
  readonly servers: readonly Server[];
  readonly kept: Kept;
  /** True milliseconds since the world began. */
  readonly now: () => number;
  /** Server time, whoever tells it. */
  readonly truth: () => number;
  /** Whether a server must have heard by now of all that others wrote. */
  readonly settled: (server: number) => boolean;
}

export interface Failure { readonly rule: string; readonly at: number; readonly sentence: string }

/** Clocks of two servers, and whole milliseconds. */
const TOLD_APART_MS = 5;

interface Said { readonly message: CommandMessage; readonly truthAt: number; readonly errorMs: number; readonly epoch: number }
interface Answered { readonly reply: CommandReply; readonly life: number }

export class Truth {
  failure: Failure | null = null;
  readonly counts = { acknowledged: 0, refused: 0, unanswered: 0, commits: 0, looks: 0, outside: 0, twice: 0 };
  private readonly said = new Map<string, Said>();
  private readonly first = new Map<string, Answered>();
  /** How each class stood after each of its events, folded from the disk alone. */
  private readonly states = new Map<string, Session[]>();
  private readonly compared: (Session | null)[] = [];
  private readonly world: Facts;
  private readonly kept: Kept;
  private readonly now: () => number;
  readonly settled: Facts['settled'];

  constructor(world: Facts) {
    this.world = world;
    this.kept = world.kept;
    this.now = world.now;
    this.settled = world.settled;
    world.kept.committed = (batch, by) => this.committed(batch, by);
  }

  private get epoch(): number {
    return this.world.servers[0]?.epoch ?? 0;
  }

  readonly fail = (rule: string, sentence: string): void => {
    this.failure ??= { rule, at: this.now(), sentence };
  };

  says(message: CommandMessage, errorMs: number): void {
    if (this.said.has(message.id)) this.fail('K41', `the link sent one command twice: ${message.command.type}`);
    this.said.set(message.id, { message, truthAt: this.world.truth(), errorMs, epoch: this.epoch });
  }

  private committed({ command, events, seq, summary }: Batch, by: number): void {
    this.counts.commits += 1;
    const said = this.said.get(command);
    const what = said?.message.command.type ?? 'nothing';
    if (!said) {
      this.fail('W41', `something was stored that nobody said: ${events[0]?.type ?? ''}`);
      return;
    }
    const states = this.states.get(summary.id) ?? [];
    this.states.set(summary.id, states);
    if (states.length !== seq - 1) this.fail('K41', `${what} was stored as number ${seq} of a log of ${states.length}`);
    const rows = [...this.kept.logs.values()].flat().filter((r) => r.command === command);
    if (rows.length !== events.length) this.fail('K41', `${what} acted twice`);
    const told = this.first.get(command);
    const { process } = this.world.servers[by] ?? {};
    if (told && told.life === process?.number && 'refused' in told.reply) this.fail('K41', `${what} was refused (${told.reply.refused.reason}) and acts`);
    for (const event of events) {
      const before = states.at(-1) ?? null;
      if (before && event.at < before.lastAt) this.fail('K42', `a stamp went back by ${before.lastAt - event.at} ms at ${event.type}`);
      if (event.type === 'started') this.oneClassAtATime(event.at, summary.id);
      const next = evolve(before, event);
      this.stopHolds(before, event, next, by);
      states.push(next);
      const lateMs = event.at - said.truthAt - said.errorMs;
      const pushed = before?.lastAt === event.at;
      if (said.epoch === this.epoch && !pushed && lateMs > STALE_COMMAND_MS + TOLD_APART_MS) {
        this.fail('W41', `${what} acted ${Math.round(lateMs)} ms after it was pressed`);
      }
    }
  }
  /** Out of a stop there is only the way to a pause, and nothing starts beside one. */
  private stopHolds(before: Session | null, event: Batch['events'][number], next: Session, by: number): void {
    const beside = this.world.servers[by]?.process?.core.beside();
    if (event.type === 'started' && beside && event.at > beside.since) this.fail('S110', 'a class started in a stopped room');
    if (!before?.pause?.stop || placeAt(before, event.at).over) return;
    if (event.type === 'came-back' ? next.pause?.what !== 'pause' : !next.pause?.stop) this.fail('S102', `${event.type} led out of a stop`);
  }
  private oneClassAtATime(at: number, id: string): void {
    for (const [other, states] of this.states) {
      const s = states.at(-1);
      if (other !== id && s && !placeAt(s, at as Session['lastAt']).over) this.fail('S20', `${id} started while ${other} runs`);
    }
  }

  /** @param again the network brought the message a second time; nobody hears this answer */
  answered(message: CommandMessage, reply: CommandReply, life: number, again: boolean): void {
    const before = this.first.get(message.id);
    const what = message.command.type;
    const row = this.kept.rowOf(message.id);
    if (before) {
      this.counts.twice += 1;
      if (before.life === life && !sameAnswer(before.reply, reply)) {
        this.fail('K41', `${what} arrived twice and got another answer: ${tell(before.reply)}, then ${tell(reply)}`);
      }
    } else this.first.set(message.id, { reply, life });
    if ('refused' in reply) {
      const elsewhere = before ? before.life !== life : again && this.world.servers.length > 1;
      if (row && !elsewhere && !('seq' in (before?.reply ?? {}))) this.fail('K41', `${what} was refused (${reply.refused.reason}) and acted`);
    } else if (!row && !mayAddNothing.has(what)) this.fail('K40', `${what} was acknowledged and is not on disk`);
  }

  /** What the person was told. */
  told(wasLive: boolean, sent: Sent, id: string | null, pressedAt: number): void {
    if (sent.done) this.counts.acknowledged += 1;
    else if (sent.reason === 'offline') this.counts.unanswered += 1;
    else this.counts.refused += 1;
    if (!wasLive && (sent.done || id !== null)) this.fail('W41', 'something was sent without a connection');
    if (sent.done && id !== null && !this.kept.rowOf(id) && !mayAddNothing.has(this.said.get(id)?.message.command.type ?? '')) {
      this.fail('K40', 'the phone says that it is done, and it is not on disk');
    }
    if (this.now() - pressedAt > COMMAND_ANSWER_MS * 1.001 + 1) this.fail('W41', 'the phone waited too long for an answer');
  }

  /** What a device holds must have been on disk before. */
  held(name: string, room: Room): void {
    if (!room.session) return;
    const state = this.states.get(room.session.id)?.[room.seq - 1];
    if (!state) {
      this.fail('W40', `${name} holds event ${room.seq}, which is not on disk`);
      return;
    }
    if (!isDeepStrictEqual(state, room.session)) this.fail('W40', `${name} has made something else of the first ${room.seq} events`);
  }

  /** The rooms themselves, after each change and at each look. */
  rooms(): void {
    for (const server of this.world.servers) this.room(server);
  }
  private room(server: Server): void {
    const core = server.process?.core;
    const log = core?.log();
    const session = core?.session();
    if (core && this.world.servers.length > 1 && this.settled(server.index)) this.knowsAll(server, log ?? null);
    if (!core || !log || !session) return;
    const state = this.states.get(log.id)?.[log.events.length - 1];
    if (!state) {
      this.fail('K40', `the room has ${log.events.length} events, more than the disk`);
      return;
    }
    if (session !== this.compared[server.index] && !isDeepStrictEqual(state, session)) this.fail('S1', 'the room has made something else of its log');
    this.compared[server.index] = session;
    const wrong = classHolds(session, server.process?.now() ?? session.lastAt);
    if (wrong) this.fail(wrong.rule, wrong.sentence);
  }

  /** A server that has had time to hear of everything has the whole log of the newest class; or it has left the screens. */
  private knowsAll(server: Server, log: { readonly id: string; readonly events: readonly unknown[] } | null): void {
    const newest = this.kept.latest();
    if (!log || (log.id === this.kept.newest && log.events.length === newest.length)) return;
    this.fail('K505', `server ${server.index + 1} has ${log.events.length} events of ${log.id}, the log ${newest.length} of ${this.kept.newest ?? 'nothing'}, and all has been quiet`);
  }

  /** At the end nothing is missing: what was acknowledged is in the log, and the log says what the room holds. */
  end(): void {
    for (const [id, rows] of this.kept.logs) {
      if (!isDeepStrictEqual(replay(rows.map((r) => r.event)), this.states.get(id)?.at(-1) ?? null)) this.fail('S1', `the log of ${id} replays to something else`);
    }
    const besides = new Set<string>();
    for (const { process, index } of this.world.servers) {
      const log = process?.core.log();
      if (!process) this.fail('K505', `server ${index + 1} did not come back`);
      if (log && (log.id !== this.kept.newest || log.events.length !== this.kept.logs.get(log.id)?.length)) this.fail('K40', `server ${index + 1} ends with less than is kept`);
      const beside = process?.core.beside() ?? null;
      besides.add(JSON.stringify(beside, beside && Object.keys(beside).sort()));
    }
    if (besides.size > 1) this.fail('K506', `a stop stands on one server and not on the other: ${[...besides].join(', ')}`);
  }
}

const sameAnswer = (a: CommandReply, b: CommandReply): boolean =>
  'refused' in a || 'refused' in b ? 'refused' in a && 'refused' in b && a.refused.reason === b.refused.reason : a.seq === b.seq;
const tell = (reply: CommandReply): string => ('refused' in reply ? `refused (${reply.refused.reason})` : `done (${reply.seq})`);
