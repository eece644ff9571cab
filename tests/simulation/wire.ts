/**
 * Owns the connection of a simulated device as the link sees it: connecting and
 * trying again as shared/link/socket.ts does, questions with their limits, and the
 * two ends learning of each other's end. Buffers nothing.
 */
import type { OpenWire, WireListener } from '../../shared/link/wire.ts';
import type { CommandMessage, CommandReply } from '../../shared/wire/messages/command.ts';
import { type Chance, spread } from './chance.ts';
import type { DeviceClocks } from './device.ts';
import { Connection, type Way } from './network.ts';
import type { Server } from './server.ts';
import type { VirtualTime } from './virtual-time.ts';

const AGAIN_FIRST_MS = 100;
const AGAIN_MOST_MS = 200;
const TRY_MS = 400;
const PATIENT_TRY_MS = 3_000;
const PATIENT_EVERY = 6;
/** Without a sign of life for so long the connection is given up: server/sockets.ts says how often one comes. */
const SILENT_MS = 20_000;
/** How often a packet with a command arrives a second time, and how much later at most. */
const TWICE = 0.05;
const TWICE_LATER_MS = 1_500;

export interface WireWorld {
  readonly name: string;
  readonly time: VirtualTime;
  readonly servers: readonly Server[];
  /** Where it hangs first. */
  readonly home: number;
  readonly clocks: DeviceClocks;
  readonly way: Way;
  readonly chance: Chance;
  readonly together: boolean;
  /** A command leaves the device. */
  readonly said: (message: CommandMessage) => void;
  /** The server has answered a command, whether or not the answer arrives. */
  readonly answered: (message: CommandMessage, reply: CommandReply, life: number, again: boolean) => void;
}

export interface SimulatedWire {
  readonly open: OpenWire;
  readonly connection: () => Connection | null;
  /** The connection breaks, as when an access point goes; both ends are told, or neither. */
  readonly cut: (told: boolean) => void;
  /** The server that it hangs on, or did last. */
  readonly server: () => Server;
  /** From now on it is led to another server. */
  readonly changeOver: () => void;
}

export function simulatedWire(world: WireWorld): SimulatedWire {
  const { time, servers, clocks, way, chance } = world;
  const [only] = servers;
  if (!only) throw new Error('no server');
  let { home } = world;
  let server: Server = servers[home] ?? only;
  /** As a balancer has it: the same as ever, and another where that one is gone. */
  const led = (): Server => {
    const mine = servers[home] ?? only;
    return mine.process ? mine : (servers.find((other) => other.process) ?? mine);
  };
  /** The server of each connection that stood. */
  const of = new Map<Connection, Server>();
  let connection: Connection | null = null;
  let listener: WireListener | null = null;
  let attempts = 0;
  let trying = 0;
  let silent = () => {};
  const unanswered = new Set<(error: Error) => void>();

  const connect = () => {
    trying += 1;
    const mine = trying;
    const limitMs = attempts === 0 || attempts % PATIENT_EVERY === 0 ? PATIENT_TRY_MS : TRY_MS;
    // TCP, upgrade, namespace: three times there and back.
    const roundMs = [1, 2, 3].reduce((ms) => ms + way.delayMs('up') + way.delayMs('down'), 0);
    const reachable = way.through;
    const to = led();
    const fail = () => {
      if (mine !== trying) return;
      attempts += 1;
      listener?.failed(attempts);
      const againMs = Math.min(AGAIN_MOST_MS, AGAIN_FIRST_MS * 2 ** (attempts - 1)) * spread(chance, 0.5, 1.5);
      clocks.afterMs(againMs, () => { if (mine === trying) connect(); });
    };
    if (reachable && to.process && roundMs < limitMs) {
      const { number } = to.process;
      time.after(roundMs, () => clocks.awake(() => {
        if (mine !== trying) return;
        if (!way.through) return clocks.afterMs(limitMs - roundMs, fail);
        if (to.process?.number !== number) return fail();
        stand(to);
      }));
    } else if (reachable && !to.process) clocks.afterMs(roundMs / 3, fail);
    else clocks.afterMs(limitMs, fail);
  };

  const stand = (to: Server) => {
    trying += 1;
    server = to;
    attempts = 0;
    const c = new Connection(time, way, world.together);
    connection = c;
    of.set(c, to);
    const watch = () => {
      silent();
      silent = clocks.afterMs(SILENT_MS, () => leave(c, 'ping timeout'));
    };
    const awake = (run: () => void) => clocks.awake(() => { if (connection === c) run(); });
    c.device = {
      news: (message) => awake(() => listener?.news(message)),
      snapshot: (message) => awake(() => listener?.snapshot(message)),
      presence: (message) => awake(() => listener?.presence(message)),
      ping: () => awake(() => {
        watch();
        c.up.send(() => to.pong(c));
      }),
      gone: (reason) => awake(() => leave(c, reason)),
    };
    to.accept(c);
    watch();
    listener?.up();
  };

  /** This end lets go of a connection; the other learns of it if the network lets it. */
  const letGo = (c: Connection) => {
    if (connection === c) connection = null;
    silent();
    c.believes.device = false;
    c.up.send(() => of.get(c)?.drop(c));
    c.up.close(false);
    for (const fail of [...unanswered]) fail(new Error('socket has been disconnected'));
  };
  const leave = (c: Connection, reason: string) => {
    if (connection !== c) return;
    letGo(c);
    listener?.down(reason);
    const mine = trying;
    clocks.afterMs(AGAIN_FIRST_MS * spread(chance, 0.5, 1.5), () => { if (mine === trying && !connection) connect(); });
  };

  /** A question: its answer, or an error when the limit is over or the connection is. */
  const ask = <T>(limitMs: number, up: (c: Connection, reply: (answer: T) => void) => void): Promise<T> => {
    const c = connection;
    if (!c) return Promise.reject(new Error('not connected'));
    return new Promise<T>((resolve, reject) => {
      let callOff = () => {};
      const over = () => {
        callOff();
        unanswered.delete(fail);
      };
      const fail = (error: Error) => {
        over();
        reject(error);
      };
      unanswered.add(fail);
      callOff = clocks.afterMs(limitMs, () => fail(new Error('operation has timed out')));
      up(c, (answer) => c.tell(() => clocks.awake(() => {
        if (connection !== c) return;
        over();
        resolve(answer);
      })));
    });
  };
  /** Up to a process that no longer knows the connection, the way back says so. */
  const up = (c: Connection, run: () => void) => {
    c.up.send(() => {
      if (c.believes.server) run();
    });
    if (!c.believes.server) time.after(way.delayMs('up') + way.delayMs('down'), () => { if (way.through) clocks.awake(() => leave(c, 'transport close')); });
  };

  return {
    open: (given) => {
      listener = given;
      connect();
      return {
        join: (message, limitMs) => ask(limitMs, (c, reply) => up(c, () => of.get(c)?.join(c, message.role, world.name, reply))),
        sample: (limitMs) => ask(limitMs, (c, reply) =>
          up(c, () => of.get(c)?.sample(c, reply))),
        choose: () => undefined,
        tell: (message, limitMs) => ask(limitMs, (c, reply) => up(c, () => of.get(c)?.tell(c, message, reply))),
        sound: () => Promise.resolve({ screens: 0 }),
        command: (message, limitMs) => ask<CommandReply>(limitMs, (c, reply) => {
          world.said(message);
          up(c, () => of.get(c)?.command(c, message, (answer, life) => {
            world.answered(message, answer, life, false);
            reply(answer);
          }));
          if (chance() < TWICE) {
            time.after(spread(chance, 0, TWICE_LATER_MS), () => {
              const then = connection ?? c;
              up(then, () => of.get(then)?.command(then, message, (answer, life) => world.answered(message, answer, life, true)));
            });
          }
        }),
        again: () => {
          const c = connection;
          if (c) {
            letGo(c);
            listener?.down('io client disconnect');
          }
          attempts = 0;
          connect();
        },
        close: () => {
          trying += 1;
          listener = null;
          if (connection) letGo(connection);
        },
      };
    },
    connection: () => connection,
    server: () => server,
    changeOver: () => { home = (home + 1) % servers.length; },
    cut: (told) => {
      const c = connection;
      if (!c) return;
      c.up.close(true);
      c.down.close(true);
      if (!told) return;
      of.get(c)?.drop(c);
      clocks.awake(() => leave(c, 'transport error'));
    },
  };
}
