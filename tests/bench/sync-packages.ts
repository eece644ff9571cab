/**
 * Owns the two packages from npm in the comparison: the real ones, with their defaults, driven
 * on virtual time. While a world runs, the global timers and chance are the world's.
 */
import { createRequire } from 'node:module';
import type { Contender } from './sync-contenders.ts';
import type { World } from './sync-world.ts';

const load = createRequire(import.meta.url);

interface Timesync {
  now: () => number;
  destroy: () => void;
  on: (event: string, heard: () => void) => void;
  receive: (from: string, data: unknown) => void;
  send: (to: string, data: { id: number }) => Promise<void>;
}
interface SyncClient {
  start: (
    send: (id: number, sentAt: number) => void,
    listen: (heard: (id: number, sentAt: number, t2: number, t3: number) => void) => void,
    report: (r: { status: string }) => void,
  ) => void;
  getSyncTime: () => number;
}

/** timesync asks for `window` when it picks its promises; with one it takes the native ones. */
const loadTimesync = (): { create: (options: object) => Timesync } => {
  const page = globalThis as { window?: unknown };
  page.window = { Promise };
  const made = load('timesync') as { create: (options: object) => Timesync };
  delete page.window;
  return made;
};
const timesync = loadTimesync();
const { SyncClient } = load('@ircam/sync') as { SyncClient: new (now: () => number) => SyncClient };

const withTimesync = (name: string, interval: number): Contender => ({
  name,
  packaged: true,
  start: (world) => {
    let heard = false;
    const ts = timesync.create({ peers: ['server'], interval, now: () => world.wall });
    ts.on('change', () => (heard = true));
    ts.on('error', () => undefined);
    ts.send = async (to, data) => {
      world.probe((t2) => ts.receive(to, { jsonrpc: '2.0', id: data.id, result: t2 }));
    };
    return () => (heard ? { at: ts.now(), errorMs: null } : null);
  },
});

const withIrcam: Contender = {
  name: 'npm @ircam/sync',
  packaged: true,
  start: (world) => {
    let heard = false;
    let hear: (id: number, sentAt: number, t2: number, t3: number) => void = () => undefined;
    const client = new SyncClient(() => world.mono / 1_000);
    client.start(
      (id, sentAt) => world.probe((t2, t3) => hear(id, sentAt, t2 / 1_000, t3 / 1_000)),
      (listener) => (hear = listener),
      ({ status }) => (heard ||= status === 'training' || status === 'sync'),
    );
    return () => (heard ? { at: client.getSyncTime() * 1_000, errorMs: null } : null);
  },
};

export const packaged: readonly Contender[] = [
  withTimesync('npm timesync', 3_600_000),
  withTimesync('npm timesync, every 10 s', 10_000),
  withIrcam,
];

/** Runs `body` while timers and chance are the world's. */
export const onWorldTime = async <T>(world: World, body: () => Promise<T>): Promise<T> => {
  const real = { setTimeout, clearTimeout, setInterval, random: Math.random };
  const timers = new Map<number, { cancel: () => void }>();
  let ids = 0;
  const once = (run: () => void, ms = 0): number => {
    const id = ++ids;
    timers.set(id, world.after(ms, run));
    return id;
  };
  const often = (run: () => void, ms: number): number => {
    const id = ++ids;
    const next = (): void => {
      timers.set(id, world.after(ms, () => { next(); run(); }));
    };
    next();
    return id;
  };
  const stop = (id: number): void => timers.get(id)?.cancel();
  Object.assign(globalThis, { setTimeout: once, setInterval: often, clearTimeout: stop });
  Math.random = world.chance;
  try {
    return await body();
  } finally {
    Object.assign(globalThis, { setTimeout: real.setTimeout, setInterval: real.setInterval, clearTimeout: real.clearTimeout });
    Math.random = real.random;
  }
};

/** Lets every promise that is ready come to its end. */
export const settle = (): Promise<void> => new Promise((done) => setImmediate(done));
