/**
 * Owns one device with the real link on it, a hand that presses its controls, and
 * what must hold of what it shows.
 */
import { isDeepStrictEqual } from 'node:util';
import { createLink, type Link } from '../../shared/link/link.ts';
import { placeAt, remainingMs } from '../../shared/session/place.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, type ServerAt, serverAt } from '../../shared/time/units.ts';
import { type Chance, uuid } from './chance.ts';
import { DeviceClocks } from './device.ts';
import { peopleHold, saysFor } from './hand-over.ts';
import { Way } from './network.ts';
import { commandFor } from './presses.ts';
import type { Server } from './server.ts';
import type { PressKind, Story } from './story.ts';
import type { Truth } from './truth.ts';
import type { VirtualTime } from './virtual-time.ts';
import { type SimulatedWire, simulatedWire } from './wire.ts';

/** Connected and awake for so long, a screen has to be right. */
const RIGHT_AFTER_MS = 2_000;
/** The bound is one of likelihood: one look in a thousand may fall outside (simulate.ts counts), but none by far. */
const GROSSLY = 2;
const GROSSLY_MS = 1;
/** A bound wider than this would be no help to anybody. */
const BOUND_MOST_MS = 150;
/** ... but it may be wide for so long after the device's clocks parted or the network was away. */
const HELPFUL_AFTER_MS = 6_000;

export class Player {
  readonly name: string;
  readonly clocks: DeviceClocks;
  readonly way: Way;
  readonly wire: SimulatedWire;
  /** This phone has offered its code; somebody may type it on another. */
  offered: () => void = () => {};
  readonly tally = { looks: 0, boundMs: 0, worstMs: 0 };
  private link: Link | null = null;
  private close = () => {};
  private liveSince = Number.POSITIVE_INFINITY;
  private sleptSinceLive = false;
  private shown: { at: number; epoch: number } | null = null;
  private lastId: string | null = null;
  private readonly time: VirtualTime;
  private readonly servers: readonly Server[];
  private readonly truth: Truth;
  private readonly model: Story['devices'][number];
  private readonly newId: () => string;
  private readonly luck: Chance;

  constructor(name: string, model: Story['devices'][number], time: VirtualTime, servers: readonly Server[], home: number, truth: Truth, chance: (name: string) => Chance) {
    this.name = name;
    this.model = model;
    this.time = time;
    this.servers = servers;
    this.truth = truth;
    this.clocks = new DeviceClocks(time, model);
    this.way = new Way(time, chance(`${name} way`), model);
    const ids = chance(`${name} ids`);
    this.newId = () => {
      this.lastId = uuid(ids);
      return this.lastId;
    };
    this.wire = simulatedWire({
      name, time, servers, home, clocks: this.clocks, way: this.way, chance: chance(`${name} wire`), together: model.together,
      said: (message) => truth.says(message, this.link?.room().errorMs() ?? 0),
      answered: (message, reply, life, again) => truth.answered(message, reply, life, again),
    });
    this.luck = chance(`${name} waking`);
  }

  private get server(): Server {
    return this.wire.server();
  }

  open(): void {
    const { role } = this.model;
    const clock = { now: this.clocks.now, wallMs: this.clocks.wall, afterMs: this.clocks.afterMs };
    const link = createLink({ role, room: 'hall', clock, open: this.wire.open, newId: this.newId });
    this.link = link;
    this.shown = null;
    let was = link.room();
    this.close = link.subscribe(() => {
      const room = link.room();
      if (room.link !== was.link) this.liveSince = room.link.state === 'live' ? this.time.now : Number.POSITIVE_INFINITY;
      if (room.link.state === 'live' && was.link.state !== 'live') this.sleptSinceLive = false;
      if (room.session !== was.session) this.truth.held(this.name, room);
      was = room;
    });
  }
  reload(ms: number): void {
    if (!this.link || this.clocks.asleep) return;
    this.close();
    this.link = null;
    this.liveSince = Number.POSITIVE_INFINITY;
    this.time.after(ms, () => this.clocks.awake(() => this.open()));
  }
  /** Some browsers say that they woke; on the others only the clocks do. */
  sleep(ms: number): void {
    this.sleptSinceLive = true;
    this.clocks.sleep(ms);
    if (this.luck() < 0.5) this.time.after(ms, () => this.clocks.awake(() => this.link?.wake()));
  }
  /** One tap on a control, as the phone offers it at this instant; gives what it meant. */
  press(what: PressKind, n: number): string {
    const { link } = this;
    if (!link || this.clocks.asleep) return 'nobody looks';
    const room = link.room();
    const says = saysFor(what, n);
    if (says === 'takes') return this.take();
    if (says) {
      void room.tell(says).then((told) => { if (says.do === 'hand-over' && 'done' in told) this.offered(); });
      return says.do;
    }
    const command = commandFor(room, what, n);
    if (!command) return 'not offered';
    const live = room.link.state === 'live';
    const pressedAt = this.time.now;
    this.lastId = null;
    const sending = room.send(command);
    const id = this.lastId;
    void sending.then((sent) => {
      // A device that slept in between answers when it wakes.
      this.truth.told(live, sent, id, this.clocks.wokeAt > pressedAt ? this.time.now : pressedAt);
    });
    return command.type;
  }

  /** Types the code of the room, which is a request of its own. */
  take(): string {
    if (this.clocks.asleep || !this.way.through) return 'not through';
    this.time.after(this.way.delayMs('up'), () => (this.server.process ? this.server : this.servers.find((s) => s.process))?.pair(this.name));
    return 'takes over';
  }

  /** Live, with nothing under way, and nothing of the network between it and the server. */
  get upToDate(): boolean {
    const c = this.wire.connection();
    return this.link?.room().link.state === 'live' && c !== null && !this.clocks.asleep && c.believes.server
      && c.down.open && c.down.newsUnderWay === 0 && this.server.process?.connections.get(c)?.role !== undefined;
  }

  look(serverChangedAt: number): void {
    const { link, server, truth, time } = this;
    if (!link || this.clocks.asleep) return;
    const room = link.room();
    const now = room.now();
    const errorMs = room.errorMs();
    this.steady(now, server.epoch);
    const core = server.process?.core;
    if (this.upToDate && core) {
      const log = core.log();
      const same = (log?.id ?? null) === (room.session?.id ?? null);
      const seq = log?.events.length ?? 0;
      // What another server decided may have come by another way, sooner than to this one.
      const ahead = !truth.settled(server.index) && (!same || room.seq > seq);
      if (!ahead && (!same || seq !== room.seq)) {
        truth.fail('W40', `${this.name} holds ${room.seq} events of ${room.session?.id ?? 'no class'}, the room ${seq} of ${log?.id ?? 'no class'}, and nothing is under way`);
      }
    }
    const since = Math.max(this.liveSince, this.clocks.wokeAt, serverChangedAt);
    const calm = this.upToDate && this.way.through && time.now - Math.max(since, server.peopleChangedAt, this.way.healedAt) > HELPFUL_AFTER_MS;
    const { people } = server.process ?? {};
    const wrong = peopleHold(this.model.role, this.name, room, people ? { here: people.here(), lead: people.lead() } : null, calm);
    if (wrong) truth.fail(wrong.rule, wrong.sentence);
    if (room.link.state !== 'live' || !this.wire.connection()?.believes.server || this.sleptSinceLive && time.now - this.clocks.wokeAt < RIGHT_AFTER_MS || time.now - since < RIGHT_AFTER_MS) return;
    truth.counts.looks += 1;
    if (now === null || errorMs === null) {
      truth.fail('O40', `${this.name} is connected for 2 s and has no time`);
      return;
    }
    const offMs = Math.abs(now - server.truth);
    this.tally.worstMs = Math.max(this.tally.worstMs, offMs);
    if (offMs > errorMs) truth.counts.outside += 1;
    if (offMs > errorMs * GROSSLY + GROSSLY_MS) truth.fail('O40', `${this.name} is off by ${offMs.toFixed(2)} ms and claims ${errorMs.toFixed(2)}`);
    const calmMs = time.now - Math.max(since, this.clocks.wallSetAt, this.way.healedAt);
    if (calmMs > HELPFUL_AFTER_MS && this.way.through) {
      this.tally.looks += 1;
      this.tally.boundMs += errorMs;
      if (errorMs > BOUND_MOST_MS) truth.fail('O40', `${this.name} claims no better than ${errorMs.toFixed(0)} ms`);
    }
    const session = core?.session();
    if (this.upToDate && session && room.session && (truth.settled(server.index) || isDeepStrictEqual(session, room.session))) this.same(room.session, session, now, Math.max(errorMs, offMs));
  }

  /** The clock that is shown never goes back, but once when the server was started in another time. */
  private steady(now: ServerAt | null, epoch: number): void {
    const before = this.shown;
    if (now === null) return;
    this.shown = { at: now, epoch: before?.epoch ?? epoch };
    if (!before || now >= before.at) return;
    if (before.epoch !== epoch) this.shown = { at: now, epoch };
    else if (now < before.at - 1e-3) this.truth.fail('O41', `${this.name} went back by ${(before.at - now).toFixed(2)} ms`);
  }
  private same(mine: Session, theirs: Session, now: ServerAt, errorMs: number): void {
    const true1 = serverAt(this.server.truth);
    const early = placeAt(theirs, after(true1, -errorMs));
    const late = placeAt(theirs, after(true1, errorMs));
    const place = placeAt(mine, now);
    if (place.index < early.index || place.index > late.index) {
      this.truth.fail('O40', `${this.name} shows interval ${place.index} where the class is in ${early.index} to ${late.index}`);
      return;
    }
    const left = (s: Session, p: typeof place) => p.countInMs + remainingMs(s, p);
    if (left(mine, place) > left(theirs, early) || left(mine, place) < left(theirs, late)) {
      this.truth.fail('O40', `${this.name} shows ${left(mine, place)} ms left where there are ${left(theirs, late)} to ${left(theirs, early)}`);
    }
  }
  get state(): string {
    return this.link?.room().link.state ?? 'closed';
  }
}
