/**
 * Owns the ground of a simulated server that shares its log with others: a computer with a crystal of
 * its own, the database, and what servers say to each other. Follows server/studio.ts, chain/clock.ts and
 * real-clock.ts line by line; the talk, the board of stops and the clock are the real ones.
 */
import { boardStops } from '../../server/chain/board.ts';
import { openTalk } from '../../server/chain/talk.ts';
import { type Followed, followChain } from '../../server/core/chain-follow.ts';
import type { StoppableCore } from '../../server/core/room-stop.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import type { Base, Ears } from './base.ts';
import { type Chance, spread } from './chance.ts';
import type { Footing, Ground } from './ground.ts';
import { type BaseFault, lineTo } from './line.ts';

/** As server/chain/clock.ts has it: a timer looks again this often. */
const WAKE_MS = 10_000;
/** A server that cannot open its log ends and is started again. */
const AGAIN_MS = 1_000;

export class Chained implements Ground {
  readonly faults: BaseFault[] = [];
  unreadable = 0;
  readonly warnings: string[] = [];
  /** What came for the devices that hang here. */
  toDevices: Ears['news'] = () => {};
  private followed: Followed | null = null;
  private lives = 0;
  private readonly base: Base;
  private readonly server: number;
  private readonly ppm: number;
  private readonly chance: Chance;
  private readonly bootedAt: number;

  constructor(base: Base, server: number, ppm: number, chance: Chance) {
    this.base = base;
    this.server = server;
    this.ppm = ppm;
    this.chance = chance;
    this.bootedAt = -spread(chance, 1e5, 1e8);
  }

  private get rate(): number {
    return 1 + this.ppm * 1e-6;
  }
  readonly truth = (): number => this.followed?.exact() ?? this.base.truth();
  readonly epoch = (): number => this.base.epoch;
  /** How far its clock is from the time of the chain, and what it claims. */
  off(): { readonly ms: number; readonly claimedMs: number } | null {
    return this.followed && { ms: Math.abs(this.followed.exact() - this.base.truth()), claimedMs: this.followed.errorMs() ?? 0 };
  }
  get jumps(): number {
    return this.followed?.jumps() ?? 0;
  }
  readonly ended = (): void => {
    this.base.forgets(this);
    this.followed?.stop();
    this.followed = null;
  };
  readonly booted = (): void => {};

  readonly begin = (alive: () => boolean, stands: (footing: Footing) => void): void => {
    this.open(alive).then((footing) => { if (alive()) stands(footing); }, () => {
      this.ended();
      this.base.time.after(AGAIN_MS, () => { if (alive()) this.begin(alive, stands); });
    });
  };

  private async open(alive: () => boolean): Promise<Footing> {
    const { base, server, chance } = this;
    const { time } = base;
    this.lives += 1;
    const name = `server ${server} life ${this.lives}`;
    const warn = (sentence: string) => { this.warnings.push(sentence); };
    const ears: Ears = { alive, grown: () => {}, said: () => {}, redis: () => {}, news: (news) => this.toDevices(news) };
    const { store, chain } = lineTo(base, server, chance, this.faults, () => {
      this.unreadable -= 1;
      return this.unreadable >= 0;
    }, ears);
    const redis = base.hasRedis ? {
      ready: () => base.redisReady,
      say: (text: string) => base.byRedis(server, false, (other) => other.redis(text)),
      heard: (listen: (text: string) => void) => { ears.redis = listen; },
    } : null;
    const talk = openTalk(name, { say: chain.say, heard: (listen) => { ears.said = listen; } }, redis, warn);
    const stops = await boardStops(chain, talk, warn);
    const rows = await store.latest('hall');
    const own = () => ({ monotonicMs: (time.now - this.bootedAt) * this.rate, sleptMs: 0 });
    const afterMs = (ms: number, run: () => void) => time.after(ms / this.rate, () => { if (alive()) run(); });
    const followed = await followChain({ own, afterMs, time: chain.time, moveTime: chain.moveTime, callOthers: () => talk.sayFirst({ say: 'clock' }), warn }, rows.at(-1)?.event.at ?? 0);
    if (!alive()) throw new Error('gone');
    this.followed = followed;
    base.knows(this);
    const { exact } = followed;
    const now = () => serverAt(Math.floor(exact()));
    return {
      rows, store, exact, shared: true,
      clock: () => `chain ${name} ${followed.jumps()}`,
      timer: (at: ServerAt, run) => {
        let callOff = () => {};
        const wait = () => {
          const leftMs = at - exact();
          if (leftMs <= 0) run();
          else callOff = afterMs(Math.min(Math.ceil(leftMs), WAKE_MS), wait);
        };
        callOff = afterMs(0, wait);
        return () => callOff();
      },
      stops: { kept: stops.of('hall', now()), keep: (stop) => stops.keep('hall', stop) },
      opened: (core: StoppableCore) => {
        talk.listen((message) => {
          if (message?.say === 'clock') followed.look();
          if (message?.say === 'stop') core.adopt(message.stop);
          if (message === null) void stops.again([{ room: 'hall', beside: core.beside, adopt: core.adopt }], now);
        });
        ears.grown = () => core.readOn();
        base.listen(server, ears);
      },
      toOthers: (news) => base.byRedis(server, true, (other) => other.news(news)),
    };
  }
}
