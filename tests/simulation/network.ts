/**
 * Owns the way between one device and the server: delay, jitter, asymmetry, lost
 * packets (which a stream sends again, and everything behind them waits), partitions
 * in one direction or both, and connections that are cut. Within one direction of
 * one connection a stream keeps its order, as TCP does (RFC 9293); two connections
 * of one device do not know each other.
 */
import type { News, Presence } from '../../shared/wire/messages/news.ts';
import type { Snapshot } from '../../shared/wire/messages/snapshot.ts';
import { type Chance, longTailed, spread } from './chance.ts';
import type { VirtualTime } from './virtual-time.ts';

export type Direction = 'up' | 'down';

/** What one way is like; all in milliseconds. */
export interface WayModel {
  readonly leastMs: number;
  readonly jitterMs: number;
  readonly sigma: number;
  /** How often a packet is lost and has to be sent again. */
  readonly lost: number;
}

/** First retransmission after this, doubled each time (RFC 6298 allows 200 ms in practice; its own least is 1 s). From memory: Linux. */
const AGAIN_MS = 200;
const AGAIN_MOST_MS = 3_000;

/** The network between one device and the server, with the partitions it has just now. */
export class Way {
  readonly blocked = { up: 0, down: 0 };
  /** When the last partition ended. */
  healedAt = 0;
  private readonly time: VirtualTime;
  readonly chance: Chance;
  private readonly models: Readonly<Record<Direction, WayModel>>;
  private healed: (() => void)[] = [];

  constructor(time: VirtualTime, chance: Chance, models: Readonly<Record<Direction, WayModel>>) {
    this.time = time;
    this.chance = chance;
    this.models = models;
  }

  delayMs(direction: Direction): number {
    const { leastMs, jitterMs, sigma, lost } = this.models[direction];
    let ms = leastMs + Math.min(60, longTailed(this.chance, jitterMs, sigma));
    for (let againMs = AGAIN_MS; this.chance() < lost && againMs < AGAIN_MOST_MS; againMs *= 2) ms += againMs;
    return ms;
  }
  partition(directions: readonly Direction[], ms: number): void {
    for (const d of directions) this.blocked[d] += 1;
    this.time.after(ms, () => {
      for (const d of directions) this.blocked[d] -= 1;
      this.healedAt = this.time.now;
      for (const go of this.healed.splice(0)) go();
    });
  }
  whenHealed(go: () => void): void {
    this.healed.push(go);
  }
  get through(): boolean {
    return this.blocked.up === 0 && this.blocked.down === 0;
  }
}

interface Packet { at: number; readonly run: () => void; readonly isNews: boolean }

/** One direction of one connection. */
export class Stream {
  private readonly packets: Packet[] = [];
  private lastAt = 0;
  private stuckSince: number | null = null;
  open = true;
  private readonly time: VirtualTime;
  private readonly way: Way;
  private readonly direction: Direction;
  /** Several packets that came together are handed on in one turn, as a polling transport does. */
  private readonly together: boolean;

  constructor(time: VirtualTime, way: Way, direction: Direction, together: boolean) {
    this.time = time;
    this.way = way;
    this.direction = direction;
    this.together = together;
  }

  /** How much news is under way. */
  get newsUnderWay(): number {
    return this.packets.filter((p) => p.isNews).length;
  }

  send(run: () => void, isNews = false): void {
    if (!this.open) return;
    const packet = { at: Number.POSITIVE_INFINITY, run, isNews };
    this.packets.push(packet);
    if (this.stuckSince !== null) return;
    if (this.way.blocked[this.direction] > 0) {
      this.stuckSince = this.time.now;
      this.way.whenHealed(() => this.unstick());
      return;
    }
    this.goes(packet, this.way.delayMs(this.direction));
  }
  /** Nothing more is taken. What is under way still arrives, or is lost with the connection. */
  close(losesWhatIsUnderWay: boolean): void {
    this.open = false;
    if (losesWhatIsUnderWay) this.lose();
  }

  /** What is under way will not arrive. */
  lose(): void {
    this.packets.length = 0;
  }

  private goes(packet: Packet, delayMs: number): void {
    this.lastAt = Math.max(this.lastAt, this.time.now + delayMs);
    packet.at = this.lastAt;
    this.time.at(packet.at, () => this.deliver());
  }
  private unstick(): void {
    if (this.way.blocked[this.direction] > 0) {
      this.way.whenHealed(() => this.unstick());
      return;
    }
    const sinceMs = this.time.now - (this.stuckSince ?? this.time.now);
    this.stuckSince = null;
    const waitMs = Math.min(AGAIN_MOST_MS, sinceMs * spread(this.way.chance, 0, 1)) + this.way.delayMs(this.direction);
    for (const packet of this.packets) if (packet.at === Number.POSITIVE_INFINITY) this.goes(packet, waitMs);
  }
  private deliver(): void {
    const due = this.packets.filter((p) => p.at <= this.time.now);
    const now = this.together ? due : due.slice(0, 1);
    this.packets.splice(0, now.length);
    if (this.together) for (const packet of now) queueMicrotask(packet.run);
    else for (const packet of now) packet.run();
  }
}

/** What the device does with what comes to it unasked. */
export interface DeviceEnd {
  readonly news: (message: News) => void;
  readonly snapshot: (message: Snapshot) => void;
  readonly presence: (message: Presence) => void;
  readonly ping: () => void;
  readonly gone: (reason: string) => void;
}

/** How often news comes twice. Sockets do not do that; that the link stands it is promised all the same. */
const TWICE = 0.03;

export class Connection {
  readonly up: Stream;
  readonly down: Stream;
  /** Whether each end still believes in it. */
  readonly believes = { device: true, server: true };
  device: DeviceEnd | null = null;
  private readonly way: Way;

  constructor(time: VirtualTime, way: Way, together: boolean) {
    this.way = way;
    this.up = new Stream(time, way, 'up', false);
    this.down = new Stream(time, way, 'down', together);
  }

  /** Something for the device; what comes after it has let go is thrown away. */
  tell(run: (end: DeviceEnd) => void, isNews = false): void {
    const packet = () => { if (this.believes.device && this.device) run(this.device); };
    this.down.send(packet, isNews);
    if (isNews && this.way.chance() < TWICE) this.down.send(packet, isNews);
  }
}
