/**
 * Owns one connection to one room, and the `Room` that pages see of it: joining,
 * coming back, sending. States and their limits: connecting and lost go on until
 * the server is there (the page says so and counts on); joining has JOIN_MS, then
 * it begins afresh; refused stays until the page is loaded or paired again.
 * Kept by connection, not by device: two links on one page share nothing.
 */
import { COMMAND_ANSWER_MS } from '../limits.ts';
import { refusals } from '../session/refusal.ts';
import type { CommandMessage } from '../wire/messages/command.ts';
import type { Role } from '../wire/messages/join.ts';
import type { News } from '../wire/messages/news.ts';
import type { Snapshot } from '../wire/messages/snapshot.ts';
import type { Play } from '../wire/messages/sound.ts';
import { PROTOCOL } from '../wire/protocol.ts';
import type { DeviceClock } from './device-clock.ts';
import { openEstimate } from './estimate.ts';
import { foldNews, foldPresence, foldReply, foldSnapshot, foldTold, type Held, nothingHeld } from './fold.ts';
import { type Sampling, sampling } from './samples.ts';
import type { LinkState, Room, Sent } from './types.ts';
import type { OpenWire, Wire } from './wire.ts';

/** An answer to a join comes in one turn of the server; a snapshot is some ten kilobytes. */
const JOIN_MS = 3_000;

const offline: Extract<Sent, { done: false }> = { done: false, reason: 'offline', sentence: 'No connection to the studio. Nothing was sent; press again when it is back.' };
const unanswered: Extract<Sent, { done: false }> = { done: false, reason: 'offline', sentence: 'No answer from the studio. Look at the screen before you press again.' };

export interface LinkNeeds {
  readonly role: Role;
  readonly room: string;
  readonly clock: DeviceClock;
  readonly open: OpenWire;
  readonly newId: () => string;
}

export interface Link {
  /** The same object until something of it has changed. */
  readonly room: () => Room;
  /** Opens with the first listener and closes with the last. */
  readonly subscribe: (listener: () => void) => () => void;
  /** The device may have slept, or the network may be back: look at once. */
  readonly wake: () => void;
}

export function createLink({ role, room: roomId, clock, open, newId }: LinkNeeds): Link {
  const listeners = new Set<() => void>();
  const estimate = openEstimate(clock, () => samples.hurry());
  let wire: Wire | null = null;
  let held: Held = nothingHeld;
  let link: LinkState = { state: 'connecting', since: clock.now(), attempt: 1 };
  /** Counts connections and joins; an answer to an older one is not listened to. */
  let turn = 0;
  /** News that came in one turn with the answer to a join, and overtook it. */
  let early: News[] = [];

  const { now, errorMs } = estimate;
  const samples: Sampling = sampling(clock, estimate, (limitMs) => wire?.sample(limitMs) ?? Promise.reject(new Error('closed')), () => {
    lose('no answer');
    wire?.again();
  });

  const choose: Room['choose'] = (plan) => { if (link.state === 'live') wire?.choose({ plan }); };
  const tellServer: Room['tell'] = async (message) => {
    if (!wire || link.state !== 'live') return { sentence: offline.sentence };
    try {
      return await wire.tell(message, COMMAND_ANSWER_MS);
    } catch {
      return { sentence: link.state === 'live' ? unanswered.sentence : offline.sentence };
    }
  };
  const players = new Set<(play: Play) => void>();
  const onPlay: Room['onPlay'] = (listener) => {
    players.add(listener);
    return () => { players.delete(listener); };
  };
  const followers = new Set<Parameters<Room['onSession']>[0]>();
  const onSession: Room['onSession'] = (listener) => {
    followers.add(listener);
    listener(held.session, held.seq);
    return () => { followers.delete(listener); };
  };
  const sound: Room['sound'] = async (message) => {
    if (!wire || link.state !== 'live') return { sentence: offline.sentence };
    return wire.sound(message, COMMAND_ANSWER_MS).catch(() => ({ sentence: unanswered.sentence }));
  };
  const make = (): Room => ({ link, ...held, now, errorMs, choose, tell: tellServer, sound, onPlay, onSession, send });
  const tell = () => {
    const changed = room.session !== held.session;
    room = make();
    if (changed) for (const follower of followers) follower(held.session, held.seq);
    for (const listener of listeners) listener();
  };
  const hold = (next: Held) => {
    held = next;
    tell();
  };
  const enter = (next: LinkState) => {
    link = next;
    tell();
  };
  const lose = (reason: string) => {
    turn += 1;
    samples.stop();
    if (link.state !== 'lost' && link.state !== 'refused') enter({ state: 'lost', since: clock.now(), reason });
  };

  async function join(): Promise<void> {
    turn += 1;
    const mine = turn;
    early = [];
    enter({ state: 'joining', since: clock.now() });
    try {
      const reply = await wire?.join({ protocol: PROTOCOL, role, room: roomId }, JOIN_MS);
      if (mine !== turn || !reply) return;
      if ('refused' in reply) {
        samples.stop();
        wire?.close();
        return enter({ state: 'refused', since: clock.now(), reason: reply.refused });
      }
      held = foldSnapshot(reply.snapshot);
      estimate.named(reply.clock);
      samples.hurry();
      enter({ state: 'live', since: clock.now() });
      for (const message of early.splice(0)) hear(message);
    } catch {
      if (mine !== turn) return;
      lose('the studio did not answer');
      wire?.again();
    }
  }

  function hear(message: News): void {
    if (link.state === 'joining') early.push(message);
    if (link.state !== 'live') return;
    const next = foldNews(held, message);
    if (next === 'gap') void join();
    else if (next !== held) hold(next);
  }

  function start(): void {
    link = { state: 'connecting', since: clock.now(), attempt: 1 };
    wire = open({
      up: () => {
        samples.burst();
        void join();
      },
      down: lose,
      failed: (attempt) => {
        if (link.state === 'connecting') enter({ ...link, attempt: attempt + 1 });
      },
      snapshot: (message: Snapshot) => hold(foldTold(held, message)),
      presence: (message) => hold(foldPresence(held, message)),
      play: (message) => { for (const listener of players) listener(message); },
      news: hear,
    });
  }

  function stop(): void {
    turn += 1;
    samples.stop();
    wire?.close();
    wire = null;
  }

  const send: Room['send'] = async (command) => {
    if (!wire || link.state !== 'live') return offline;
    const message: CommandMessage = { id: newId(), session: held.session?.id ?? null, saidAt: now(), command };
    try {
      const reply = await wire.command(message, COMMAND_ANSWER_MS);
      if (!('refused' in reply)) return { done: true };
      if (reply.snapshot) hold(foldReply(held, reply.snapshot));
      if (reply.refused.reason === 'stale') samples.burst();
      return { done: false, ...reply.refused, sentence: reply.refused.sentence || refusals[reply.refused.reason] };
    } catch {
      samples.burst();
      return link.state === 'live' ? unanswered : offline;
    }
  };

  let room: Room = make();
  return {
    room: () => room,
    subscribe: (listener) => {
      listeners.add(listener);
      if (listeners.size === 1) start();
      return () => {
        listeners.delete(listener);
        if (listeners.size === 0) stop();
      };
    },
    wake: () => {
      if (link.state === 'live' || link.state === 'joining') samples.burst();
      else if (link.state === 'lost') wire?.again();
    },
  };
}
