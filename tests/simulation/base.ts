/**
 * Owns the database that simulated servers share: one log with the contract of the keepers, a board, a
 * clock that can be set, and what servers say to each other through it. Each question travels there and
 * back; it may be slow, act without its answer arriving, or act after its asker has given up. The
 * way through Redis is here too. Leaves alone what a server makes of it (chained.ts).
 */
import type { Told } from '../../server/core/chain-time.ts';
import type { Batch } from '../../server/core/store.ts';
import type { News } from '../../shared/wire/messages/news.ts';
import { type Chance, longTailed, spread } from './chance.ts';
import { Kept } from './kept.ts';
import type { VirtualTime } from './virtual-time.ts';

const BEGAN_AT = 1_750_000_000_000;
/** As server/store/postgres.ts has it. */
export const PATIENCE_MS = 1_500;
const LISTEN_AGAIN_MS = 1_000;
/** So far the time of the chain may be moved by those who know it: their own error. */
const MOVED_MOST_MS = 20;

/** A server's end of it, for the life of one process. */
export interface Ears {
  readonly alive: () => boolean;
  grown: (room: string | null) => void;
  said: (text: string | null) => void;
  redis: (text: string) => void;
  news: (news: News) => void;
}

/** A commit that was sent and has not acted yet: what conflicts with it waits. */
export interface Pending { readonly batch: Batch; readonly over: Promise<void>; readonly end: () => void }

export class Base {
  readonly kept = new Kept();
  readonly board = new Map<string, string>();
  readonly pending = new Set<Pending>();
  offsetMs = 0;
  awayUntil = 0;
  frozenUntil = 0;
  slowUntil = 0;
  epoch = 1;
  /** When something last went wrong or was written that a server may not have heard of, in true time; by server. */
  readonly unsettledAt: number[] = [];
  readonly deafUntil: number[] = [];
  readonly lagUntil: number[] = [];
  redisAwayUntil = 0;
  broken: (rule: string, sentence: string) => void = () => {};
  private readonly ears = new Map<number, Ears>();
  private readonly newsAt = new Map<number, number>();
  /** Processes that know the time of the chain, so that it goes on whatever the database's clock does. */
  private readonly knowers = new Set<object>();
  /** So far at most did those who took steps back miss them: nobody can know it. */
  movedMs = 0;
  private setMs = 0;
  private truthMs = 0;
  readonly time: VirtualTime;
  readonly chance: Chance;
  readonly hasRedis: boolean;

  constructor(time: VirtualTime, chance: Chance, hasRedis: boolean) {
    this.time = time;
    this.chance = chance;
    this.hasRedis = hasRedis;
  }

  get there(): boolean {
    return this.time.now >= this.awayUntil;
  }
  get redisReady(): boolean {
    return this.hasRedis && this.time.now >= this.redisAwayUntil;
  }
  delayMs(): number {
    const slow = this.time.now < this.slowUntil ? spread(this.chance, 100, 1_400) : 0;
    return slow + Math.min(60, longTailed(this.chance, 0.3, 0.8));
  }

  /** The time of the chain, as it has to be told. */
  readonly truth = (): number => BEGAN_AT + this.time.now + this.truthMs;
  told(): Told {
    return { at: BEGAN_AT + this.time.now + this.setMs + this.offsetMs, offsetMs: this.offsetMs };
  }
  setClock(byMs: number): void {
    this.setMs += byMs;
    if (this.knowers.size === 0) this.adopt();
  }
  moveTime(fromMs: number, toMs: number): boolean {
    if (this.offsetMs !== fromMs) return false;
    this.offsetMs = toMs;
    if (this.knowers.size === 0) this.adopt();
    else {
      const movedMs = this.setMs + toMs - this.truthMs;
      const excused = this.rough(PATIENCE_MS) || this.deafUntil.some((until) => this.time.now < until + PATIENCE_MS);
      if (Math.abs(movedMs) > MOVED_MOST_MS && excused) this.slowUntil = Math.max(this.slowUntil, this.time.now);
      else if (Math.abs(movedMs) > MOVED_MOST_MS) this.broken('K509', `the time of the chain was moved by ${movedMs.toFixed(0)} ms while servers knew it`);
      this.movedMs = Math.max(this.movedMs, Math.abs(movedMs));
    }
    return true;
  }
  knows(who: object): void {
    this.knowers.add(who);
  }
  forgets(who: object): void {
    if (this.knowers.delete(who) && this.knowers.size === 0) this.adopt();
  }
  /** Nobody is left who knew another. */
  private adopt(): void {
    const next = this.setMs + this.offsetMs;
    if (Math.abs(next - this.truthMs) > 0.01) this.epoch += 1;
    this.truthMs = next;
  }

  /** Whether its answers take their time, or did a moment ago: what its clock says can be measured by none. */
  rough(ms: number): boolean {
    return this.time.now < Math.max(this.slowUntil, this.frozenUntil, this.awayUntil) + ms;
  }

  /** One question there and back. Rejects where nobody answers; it may act all the same. */
  ask<T>(alive: () => boolean, work: () => T | Promise<T>): Promise<T> {
    const { time } = this;
    return new Promise((resolve, reject) => {
      let open = true;
      const say = (run: () => void) => {
        if (!open || !alive()) return;
        open = false;
        callOff();
        run();
      };
      const callOff = time.after(PATIENCE_MS, () => say(() => reject(new Error('no answer in time'))));
      const arrive = () => {
        if (!this.there) return say(() => reject(new Error('the connection is gone')));
        if (time.now < this.frozenUntil) return void time.at(this.frozenUntil + spread(this.chance, 0, 5), arrive);
        void Promise.resolve(work()).then((answer) => time.after(this.delayMs(), () => say(() => resolve(answer))), (error: unknown) => say(() => reject(error)));
      };
      time.after(this.delayMs(), arrive);
    });
  }

  /** Killed and started again: all connections are gone, and what was not committed. */
  away(ms: number): void {
    this.awayUntil = Math.max(this.awayUntil, this.time.now + ms);
    for (const pending of this.pending) pending.end();
    for (const server of this.ears.keys()) this.deaf(server, ms);
  }
  /** A server hears nothing for a while, notices, and listens again. */
  deaf(server: number, ms: number): void {
    const until = this.time.now + ms;
    this.deafUntil[server] = Math.max(this.deafUntil[server] ?? 0, until);
    const again = () => {
      const ears = this.ears.get(server);
      if (!ears?.alive()) return;
      if (!this.there || this.time.now < (this.deafUntil[server] ?? 0)) return void this.time.after(LISTEN_AGAIN_MS, again);
      this.unsettledAt[server] = this.time.now;
      ears.grown(null);
      ears.said(null);
    };
    this.time.at(until + spread(this.chance, 1, LISTEN_AGAIN_MS), again);
  }
  listen(server: number, ears: Ears): void {
    this.ears.set(server, ears);
    this.time.after(this.delayMs(), () => this.deaf(server, 0));
  }
  /** To all others, once; whoever hears nothing just now does not hear it. */
  tell(from: Ears, run: (ears: Ears) => void): void {
    for (const [server, ears] of this.ears) {
      if (ears === from) continue;
      this.unsettledAt[server] = this.time.now;
      this.time.after(this.delayMs(), () => {
        this.unsettledAt[server] = this.time.now;
        if (ears.alive() && this.there && this.time.now >= (this.deafUntil[server] ?? 0)) run(ears);
      });
    }
  }
  /** The same through Redis; a stream takes up where it was after a break, a channel does not. */
  byRedis(from: number, stream: boolean, run: (ears: Ears) => void): void {
    if (!this.redisReady) return;
    for (const [server, ears] of this.ears) {
      if (server === from || (!stream && this.time.now < (this.lagUntil[server] ?? 0))) continue;
      const at = Math.max(this.newsAt.get(server) ?? 0, this.time.now + this.delayMs(), this.lagUntil[server] ?? 0);
      this.newsAt.set(server, at);
      this.time.at(at, () => { if (ears.alive() && this.redisReady) run(ears); });
    }
  }
  /** Something was written just now. */
  unsettled(): void {
    for (const server of this.ears.keys()) this.unsettledAt[server] = this.time.now;
  }
  /** Whether a server must have heard of everything by now. @param ms how long all has been quiet */
  settled(server: number, ms: number): boolean {
    const { now } = this.time;
    const last = Math.max(this.unsettledAt[server] ?? 0, this.deafUntil[server] ?? 0, this.awayUntil, this.frozenUntil, this.slowUntil);
    return this.pending.size === 0 && now - last > ms;
  }
}
