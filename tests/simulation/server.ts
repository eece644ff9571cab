/**
 * Owns a server of a simulated world: one process after another, each with the real
 * room, on what it stands on (ground.ts). What stands between the room and the
 * connections follows server/sockets.ts and server/studio.ts line by line.
 */
import { may } from '../../server/core/may.ts';
import { openRoom, runs } from '../../server/core/room.ts';
import { type StoppableCore, withStop } from '../../server/core/room-stop.ts';
import { openPeople, type RoomPeople } from '../../server/people/people.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import { refuse } from '../../shared/session/refusal.ts';
import type { Session } from '../../shared/session/session.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import { type CommandMessage, type CommandReply, commandMessageSchema } from '../../shared/wire/messages/command.ts';
import type { JoinReply, Role } from '../../shared/wire/messages/join.ts';
import type { SampleReply } from '../../shared/wire/messages/sample.ts';
import type { News } from '../../shared/wire/messages/news.ts';
import type { Tell, Told } from '../../shared/wire/messages/tell.ts';
import { facts } from '../random/plans.ts';
import type { Chance } from './chance.ts';
import type { Footing, Ground } from './ground.ts';
import type { Connection } from './network.ts';
import { presenceOf, snapshotOf } from './snapshot.ts';
import type { VirtualTime } from './virtual-time.ts';

/** As server/sockets.ts has it: a sign of life each so often, and so long for the answer. */
const PING_MS = 15_000;
const PONG_MS = 5_000;

/** More lives than a server has in any story. */
const LIVES_MOST = 10_000;

/** One life of the server's process. */
export interface Process {
  readonly number: number;
  readonly core: StoppableCore;
  /** In memory: gone with the process. */
  readonly people: RoomPeople;
  readonly clock: () => string;
  readonly exact: () => number;
  readonly now: () => ServerAt;
  readonly connections: Map<Connection, { role: Role | null; name: string; owedPongs: number }>;
}

export class Server {
  process: Process | null = null;
  /** The plans of the studio by id. */
  readonly plans: ReadonlyMap<string, Plan>;
  private lives: number;
  private begins = 0;
  private classes = 0;
  /** When what is known of the people last changed, in true time. */
  peopleChangedAt = 0;
  private toldPeople = '';
  private readonly time: VirtualTime;
  private readonly chance: Chance;
  readonly ground: Ground;
  readonly index: number;
  readonly warnings: string[] = [];
  /** Told at each start and each change of the room. */
  changed: () => void = () => {};

  /** What was decided or heard here goes to the devices that hang here. */
  readonly toDevices = (news: News): void => {
    for (const [c, { role }] of this.process?.connections ?? []) if (role) c.tell((end) => end.news(news), true);
  };

  /** @param index of several servers: no class and no life of one has the name of another's */
  constructor(time: VirtualTime, ground: Ground, chance: Chance, plans: ReadonlyMap<string, Plan>, index = 0) {
    this.time = time;
    this.ground = ground;
    this.chance = chance;
    this.plans = plans;
    this.index = index;
    this.lives = index * LIVES_MOST;
  }

  get truth(): number {
    return this.ground.truth();
  }
  get epoch(): number {
    return this.ground.epoch();
  }

  start(): void {
    this.begins += 1;
    const mine = this.begins;
    this.ground.begin(() => this.begins === mine, (footing) => this.stand(footing, () => this.begins === mine));
  }

  private stand({ rows, store, clock, exact, timer, stops, shared, opened, toOthers }: Footing, alive: () => boolean): void {
    this.lives += 1;
    const number = this.lives;
    const now = () => serverAt(Math.floor(exact()));
    const connections: Process['connections'] = new Map();
    const people = openPeople(() => 0.5);
    const core: StoppableCore = withStop(openRoom({
      id: 'hall', store, now, timer, shared,
      newId: () => {
        this.classes += 1;
        return `class ${this.index === 0 ? '' : `${this.index}.`}${this.classes}`;
      },
      plan: async (id) => {
        const plan = this.plans.get(id);
        return plan ? { plan, facts } : null;
      },
      movement: async (id) => facts[id] ?? null,
      news: (news, from) => {
        for (const [c, { role }] of connections) if (role) c.tell((end) => end.news(news), true);
        if (from === 'here') toOthers(news);
      },
      changed: () => {
        for (const [c, { role }] of connections) if (role && !core.log()) c.tell((end) => end.snapshot(snapshotOf(core, people, role)), true);
        // While the room is opened nobody listens yet.
        if (this.process?.number === number) people.follow(core.session(), now());
        this.tellPeople();
        this.changed();
      },
      warn: (sentence) => { this.warnings.push(sentence); },
    }, rows), {
      now, ...stops,
      changed: () => {
        for (const [c, { role }] of connections) if (role) c.tell((end) => end.presence(presenceOf(core, people, role)));
        this.changed();
      },
    });
    if (!alive()) return;
    this.process = { number, core, people, clock, exact, now, connections };
    opened(core);
    this.tellPeople();
    this.changed();
  }

  /** The process is gone from one instant to the next. With `boot`, so is the computer. */
  crash(downMs: number, boot: boolean): void {
    const { process } = this;
    if (!process) return;
    this.process = null;
    this.begins += 1;
    this.ground.ended();
    for (const c of process.connections.keys()) {
      c.believes.server = false;
      c.up.close(true);
      if (this.chance() < 0.5) c.down.lose();
      // The kernel says that the process is gone; a computer without power says nothing.
      if (!boot) c.tell((end) => end.gone('transport close'));
      c.down.close(boot);
    }
    this.time.after(downMs, () => {
      if (boot) this.ground.booted();
      this.start();
    });
  }

  accept(connection: Connection): void {
    const { process, time } = this;
    if (!process) return;
    const known = { role: null, name: '', owedPongs: 0 };
    process.connections.set(connection, known);
    const ping = (): void => {
      if (!connection.believes.server) return;
      known.owedPongs += 1;
      connection.tell((end) => end.ping());
      time.after(PONG_MS, () => { if (known.owedPongs > 0) this.drop(connection); });
      time.after(PING_MS, ping);
    };
    time.after(PING_MS, ping);
  }
  pong(connection: Connection): void {
    const known = this.process?.connections.get(connection);
    if (known) known.owedPongs = 0;
  }
  drop(connection: Connection): void {
    if (!connection.believes.server) return;
    connection.believes.server = false;
    this.process?.connections.delete(connection);
    connection.tell((end) => end.gone('transport close'));
    connection.down.close(false);
  }
  /** Runs in the process that this connection is with; into a connection that is gone, the answer is that it is. */
  private with(connection: Connection, run: (process: Process) => void): void {
    const { process } = this;
    if (process?.connections.has(connection)) run(process);
  }

  join(connection: Connection, role: Role, name: string, reply: (reply: JoinReply) => void): void {
    this.with(connection, ({ core, people, clock, connections }) => {
      const known = connections.get(connection);
      if (known) Object.assign(known, { role, name });
      reply({ snapshot: snapshotOf(core, people, role, name), clock: clock() });
    });
  }
  sample(connection: Connection, reply: (reply: SampleReply) => void): void {
    this.with(connection, ({ clock, exact }) => {
      const receivedAt = exact();
      reply({ receivedAt, sentAt: exact(), clock: clock() });
    });
  }
  command(connection: Connection, message: CommandMessage, reply: (reply: CommandReply, life: number) => void): void {
    this.with(connection, (process) => {
      const { role = null, name = '' } = process.connections.get(connection) ?? {};
      const receivedAt = process.now();
      const say = (r: CommandReply) => reply(r, process.number);
      const parsed = commandMessageSchema.safeParse(message);
      if (!role || !parsed.success) return say({ ...refuse(role ? 'bad-message' : 'not-allowed'), snapshot: null });
      if (!may(role, parsed.data.command)) return say({ ...refuse('not-allowed'), snapshot: snapshotOf(process.core, process.people, role, name) });
      void process.core.command(parsed.data, receivedAt).then((answer) =>
        say('refused' in answer ? { ...answer, snapshot: snapshotOf(process.core, process.people, role, name) } : answer));
    });
  }

  tell(connection: Connection, message: Tell, reply: (told: Told) => void): void {
    this.with(connection, ({ people, now, connections }) => {
      if (message.do === 'hand-over') people.handOver(now());
      else people.tell(message, connections.get(connection)?.name ?? '', now());
      this.tellPeople();
      reply({ done: true });
    });
  }
  /** A phone is let in with the code: while a class runs it leads. */
  pair(name: string): void {
    const { process } = this;
    if (process && runs(process.core.session(), process.now())) process.people.takenOver(name);
    this.tellPeople();
  }
  /** Nothing is said where nothing changed. */
  private tellPeople(): void {
    const { process } = this;
    const words = process ? JSON.stringify([process.number, process.people.here(), process.people.lead()]) : '';
    if (!process || words === this.toldPeople) return;
    this.toldPeople = words;
    this.peopleChangedAt = this.time.now;
    for (const [c, { role }] of process.connections) if (role) c.tell((end) => end.presence(presenceOf(process.core, process.people, role)));
  }

  get session(): Session | null {
    return this.process?.core.session() ?? null;
  }
}
