/**
 * Owns one device with the real link on it, a hand that presses its controls, and
 * what must hold of what it shows.
 */
import { createLink, type Link } from '../../shared/link/link.ts';
import type { Room } from '../../shared/link/types.ts';
import type { RunningCommand } from '../../shared/session/command.ts';
import { placeAt, remainingMs } from '../../shared/session/place.ts';
import { offers } from '../../shared/session/offers.ts';
import { type Session, stopAnswers, stopStamps } from '../../shared/session/session.ts';
import { spare } from '../../shared/session/spare.ts';
import { ways } from '../../shared/session/ways.ts';
import { after, type ServerAt, serverAt } from '../../shared/time/units.ts';
import type { ChangeById, StartById } from '../../shared/wire/messages/command.ts';
import { controls } from '../../shared/view/controls.ts';
import { facts } from '../random/plans.ts';
import { type Chance, uuid } from './chance.ts';
import { DeviceClocks } from './device.ts';
import { Way } from './network.ts';
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
/** The floor must be free after so many of these. */
const HALF_MINUTE_MS = 30_000;

export class Player {
  readonly name: string;
  readonly clocks: DeviceClocks;
  readonly way: Way;
  readonly wire: SimulatedWire;
  readonly tally = { looks: 0, boundMs: 0, worstMs: 0 };
  private link: Link | null = null;
  private close = () => {};
  private liveSince = Number.POSITIVE_INFINITY;
  private sleptSinceLive = false;
  private shown: { at: number; epoch: number } | null = null;
  private lastId: string | null = null;
  private readonly time: VirtualTime;
  private readonly server: Server;
  private readonly truth: Truth;
  private readonly model: Story['devices'][number];
  private readonly newId: () => string;
  private readonly luck: Chance;

  constructor(name: string, model: Story['devices'][number], time: VirtualTime, server: Server, truth: Truth, chance: (name: string) => Chance) {
    this.name = name;
    this.model = model;
    this.time = time;
    this.server = server;
    this.truth = truth;
    this.clocks = new DeviceClocks(time, model);
    this.way = new Way(time, chance(`${name} way`), model);
    const ids = chance(`${name} ids`);
    this.newId = () => {
      this.lastId = uuid(ids);
      return this.lastId;
    };
    this.wire = simulatedWire({
      time, server, clocks: this.clocks, way: this.way, chance: chance(`${name} wire`), together: model.together,
      said: (message) => truth.says(message, this.link?.room().errorMs() ?? 0),
      answered: (message, reply, life) => truth.answered(message, reply, life),
    });
    this.luck = chance(`${name} waking`);
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
      if ((log?.id ?? null) !== (room.session?.id ?? null) || (log?.events.length ?? 0) !== room.seq) {
        truth.fail('W40', `${this.name} holds ${room.seq} events of ${room.session?.id ?? 'no class'}, the room ${log?.events.length ?? 0} of ${log?.id ?? 'no class'}, and nothing is under way`);
      }
    }
    const since = Math.max(this.liveSince, this.clocks.wokeAt, serverChangedAt);
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
    if (this.upToDate && session && room.session) this.same(room.session, session, now, Math.max(errorMs, offMs));
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

function commandFor(room: Room, what: PressKind, n: number): RunningCommand | StartById | ChangeById | null {
  const { session } = room;
  const at = room.now() ?? serverAt(0);
  const over = session === null || placeAt(session, at).over !== null;
  // Every other note or head count is a change of the class instead: one of all that its phone offers.
  if (session && !over && n % 2 === 0 && (what === 'note' || what === 'head-count')) {
    const all = changes(session, at);
    return all[(n / 2) % Math.max(1, all.length)] ?? null;
  }
  // And of the rest every other one what stops a class or keeps it moving, and another movement.
  if (session && !over && n % 4 === 1 && (what === 'note' || what === 'head-count')) {
    const all = otherwise(session, at, n);
    return all[(n >> 2) % Math.max(1, all.length)] ?? null;
  }
  if (what === 'note') return session ? { type: 'note', text: `note ${n}` } : null;
  if (what === 'head-count') return session ? { type: 'head-count', n } : null;
  if (over) return { type: 'start', plan: 'random', freeAt: n % 2 === 0 ? after(at, n * HALF_MINUTE_MS) : null };
  const c = controls(session, at);
  if (what === 'end') return { type: 'end' };
  if (what === 'evenUp') return c.evenUp?.command ?? c.big;
  return c[what] ?? c.big;
}

/** Stopping, its answers and the way back, keeping moving, and changing a movement for some other. */
function otherwise(session: Session, at: ServerAt, n: number): (RunningCommand | ChangeById)[] {
  const { stop, keepMoving, easyFirst, toPaused } = controls(session, at);
  if (toPaused) {
    return [
      toPaused, ...stopAnswers.map((of) => ({ type: 'answer-stop' as const, what: of })),
      ...stopStamps.map((of) => ({ type: 'stamp-stop' as const, what: of })),
    ];
  }
  const others = Object.keys(facts);
  return [
    stop, keepMoving, easyFirst,
    ...offers(session, at).movements.map(({ section, item, intervals }, k): ChangeById =>
      ({ type: 'change', section, item, intervals: [...intervals], to: others[(n + k) % others.length] ?? '' })),
  ].filter((c) => c !== null);
}

/** Rounds, movements, breaks, the ways to end on time and to use time, and taking back: what the phone would send. */
function changes(session: Session, at: ServerAt): RunningCommand[] {
  const o = offers(session, at);
  return [
    ...o.rounds.flatMap((r) => [r.drop, r.add]), ...o.movements.map((m) => m.leaveOut),
    o.rest, o.water, o.lengthenShow, o.repeat, o.toCoolDown, o.undo?.command ?? null,
    ...ways(session, at).map((w) => w.command), ...spare(session, at).map((w) => w.command),
  ].filter((c) => c !== null);
}
