/**
 * Owns a world for one device: virtual time, a server clock, the device's two clocks (drift,
 * wall steps, sleep, coarse ticks) and a way there and back with delays, losses and order. Every
 * chance comes from the seed. Leaves alone what the delays are (sync-models.ts).
 */
export type Chance = () => number;

/** A small seeded generator (mulberry32, public domain). */
export const chanceOf = (seed: number): Chance => {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
};

export const normal = (chance: Chance): number =>
  Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());

/** A delay in ms at a time, or null for a message that never comes. */
export type Leg = (atMs: number) => number | null;

export interface Model {
  readonly name: string;
  readonly ppm: number;
  readonly tickMs: number;
  readonly wallStepMs: number;
  readonly sleepMs: number;
  readonly inOrder: boolean;
  readonly legs: (chance: Chance) => { readonly up: Leg; readonly down: Leg };
}

export const RUN_MS = 600_000;
const SERVER_AT_0 = 1_800_000_000_000;

export class World {
  private atMs = 0;
  private sleptMs = 0;
  private queue: { at: number; order: number; run: () => void; asleep: boolean }[] = [];
  private orders = 0;
  private readonly up: Leg;
  private readonly down: Leg;
  private readonly last = { up: 0, down: 0 };
  private readonly monoAt0: number;
  private readonly wallAt0: number;
  private readonly rate: number;
  /** When the wall clock steps, or the device goes to sleep. */
  readonly eventAt: number;
  readonly model: Model;
  readonly chance: Chance;
  probes = 0;
  onWake: () => void = () => {};

  constructor(model: Model, seed: number) {
    this.model = model;
    this.chance = chanceOf(seed * 7919 + 17);
    const c = this.chance;
    this.monoAt0 = c() * 1e6;
    this.wallAt0 = SERVER_AT_0 + (c() - 0.5) * 60_000;
    this.rate = 1 + (c() < 0.5 ? -1 : 1) * model.ppm * 1e-6;
    this.eventAt = (0.3 + 0.4 * c()) * RUN_MS;
    const ways = model.legs(c);
    this.up = ways.up;
    this.down = ways.down;
    if (model.sleepMs > 0) this.push(this.eventAt, () => this.sleep(), true);
  }

  get now(): number {
    return this.atMs;
  }
  get server(): number {
    return SERVER_AT_0 + this.atMs;
  }
  private tick(ms: number): number {
    const { tickMs } = this.model;
    return tickMs > 0 ? Math.floor(ms / tickMs) * tickMs : ms;
  }
  /** The device's monotonic clock: stands still in sleep. */
  get mono(): number {
    return this.tick(this.monoAt0 + (this.atMs - this.sleptMs) * this.rate);
  }
  get wall(): number {
    const step = this.model.wallStepMs !== 0 && this.atMs >= this.eventAt ? this.model.wallStepMs : 0;
    return Math.floor(this.wallAt0 + this.atMs * this.rate + step);
  }

  private push(at: number, run: () => void, asleep = false): { cancel: () => void } {
    const item = { at, order: this.orders++, run, asleep };
    this.queue.push(item);
    return { cancel: () => (this.queue = this.queue.filter((q) => q !== item)) };
  }
  after(ms: number, run: () => void): { cancel: () => void } {
    return this.push(this.atMs + Math.max(ms, 0), run);
  }

  /** Everything on the device waits; what was under way is lost. */
  private sleep(): void {
    this.queue = this.queue.filter((q) => !q.asleep);
    for (const q of this.queue) q.at += this.model.sleepMs;
    this.sleptMs += this.model.sleepMs;
    this.atMs += this.model.sleepMs;
    this.push(this.atMs, () => this.onWake());
  }

  private arrive(way: 'up' | 'down', run: () => void): void {
    const ms = this[way](this.awake);
    if (ms === null) return;
    const at = this.model.inOrder ? Math.max(this.atMs + ms, this.last[way]) : this.atMs + ms;
    this.last[way] = at;
    this.push(at, run, true);
  }
  /** Time without the sleep, for what lives in the network of this run. */
  get awake(): number {
    return this.atMs - this.sleptMs;
  }

  /** One exchange; the server takes 0.05 to 0.2 ms to answer. */
  probe(answer: (t2: number, t3: number) => void): void {
    this.probes++;
    this.arrive('up', () => {
      const t2 = this.server;
      this.push(this.atMs + 0.05 + 0.15 * this.chance(), () => {
        const t3 = this.server;
        this.arrive('down', () => answer(t2, t3));
      }, true);
    });
  }
  /** A message from the server to the device. */
  tell(told: (sentAt: number) => void): void {
    const sentAt = this.server;
    this.probes++;
    this.arrive('down', () => told(sentAt));
  }

  /** Runs what is next; false when nothing is left before the end of the run. */
  step(): boolean {
    let next = -1;
    this.queue.forEach((q, i) => {
      const best = this.queue[next];
      if (best === undefined || q.at < best.at || (q.at === best.at && q.order < best.order)) next = i;
    });
    const item = this.queue[next];
    if (item === undefined || item.at - this.sleptMs > RUN_MS) return false;
    this.queue.splice(next, 1);
    this.atMs = Math.max(this.atMs, item.at);
    item.run();
    return true;
  }
}
