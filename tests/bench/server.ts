/** Owns starting a server for a bench, ours or the bare relay, as a process of its own; and talking to it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { io, type Socket } from 'socket.io-client';
import type { Snapshot } from '../../shared/wire/messages/snapshot.ts';
import { PROTOCOL } from '../../shared/wire/protocol.ts';

const root = join(import.meta.dirname, '../..');

export interface Running {
  readonly url: string;
  readonly pid: number;
  readonly data: string;
  /** CPU seconds of the process so far, user and system. */
  readonly cpuS: () => number;
  readonly kill: (signal?: NodeJS.Signals) => Promise<void>;
  /** Ends it and removes its folder. */
  readonly close: () => Promise<void>;
}

/** @param under words in front, such as those that start it in a network namespace */
export async function begin(command: readonly string[], env: Record<string, string>, data = mkdtempSync(join(tmpdir(), 'hallclock-bench-')), under: readonly string[] = []): Promise<Running> {
  const [program = process.execPath, ...args] = [...under, process.execPath, ...command];
  const child: ChildProcess = spawn(program, args, {
    cwd: root, stdio: ['ignore', 'ignore', 'inherit', 'ipc'], env: { ...process.env, ...env, HALLCLOCK_DATA: data },
  });
  const port = await new Promise<number>((resolve, reject) => {
    child.once('message', (message: { port: number }) => resolve(message.port));
    child.once('exit', (code) => reject(new Error(`the server ended at once (${code})`)));
  });
  const pid = child.pid ?? 0;
  const kill = (signal: NodeJS.Signals = 'SIGTERM') => new Promise<void>((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) return resolve();
    child.once('exit', () => resolve());
    child.kill(signal);
  });
  return {
    url: `http://127.0.0.1:${port}`,
    pid,
    data,
    cpuS: () => {
      const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? [];
      return (Number(fields[11]) + Number(fields[12])) / 100;
    },
    kill,
    close: async () => {
      await kill();
      rmSync(data, { recursive: true, force: true });
    },
  };
}

/** Where it is from the repository's root. */
export const builtServer = join(root, 'dist/server/main.js');
/** The built server. @param nodeArgs what Node is given before it @param checkout another one's, whose server is looked for there */
export const hallclock = (rooms: readonly string[], port = 0, data?: string, nodeArgs: readonly string[] = [], env: Record<string, string> = {}, checkout = root): Promise<Running> => begin(
  [...nodeArgs, join(checkout, 'dist/server/main.js')],
  { HALLCLOCK_PORT: String(port), HALLCLOCK_HOST: '127.0.0.1', HALLCLOCK_TIME_ZONE: 'UTC', HALLCLOCK_ROOMS: rooms.map((r) => `${r}:${r}`).join(','), HALLCLOCK_LOG: 'error', ...env },
  data,
);
/** Plain Socket.IO, with or without a SQLite commit before it relays. */
export const relay = (commit: boolean): Promise<Running> =>
  begin(['--import', 'tsx', join(root, 'tests/bench/relay.ts')], { RELAY_COMMIT: commit ? '1' : '' });

const connected = (socket: Socket): Promise<Socket> => new Promise((resolve, reject) => {
  socket.once('connect', () => resolve(socket));
  socket.once('connect_error', reject);
});
export const connect = (url: string, options: Record<string, unknown> = {}): Promise<Socket> =>
  connected(io(url, { transports: ['websocket'], forceNew: true, reconnection: false, ...options }));

export async function joinAs(url: string, role: 'screen' | 'phone', room: string, cookie?: string): Promise<{ socket: Socket; snapshot: Snapshot }> {
  const socket = await connect(url, cookie ? { extraHeaders: { cookie } } : {});
  const reply = (await socket.emitWithAck('join', { protocol: PROTOCOL, role, room })) as { snapshot: Snapshot } | { refused: { sentence: string } };
  if ('refused' in reply) throw new Error(reply.refused.sentence);
  return { socket, snapshot: reply.snapshot };
}

export interface Hand { readonly socket: Socket; readonly session: string; readonly say: (command: object) => Promise<unknown> }

/** A phone that is paired with a room through the code that a screen was given, and a class that runs there. */
export async function phoneIn(url: string, room: string, plan = 'forty-twenty'): Promise<Hand> {
  const { socket: screen, snapshot } = await joinAs(url, 'screen', room);
  const answer = await fetch(`${url}/api/pair`, {
    method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code: snapshot.pairing?.code }),
  });
  const cookie = answer.headers.get('set-cookie')?.split(';')[0] ?? '';
  screen.disconnect();
  const { socket } = await joinAs(url, 'phone', room, cookie);
  const news = new Promise<string>((resolve) => { socket.once('news', (n: { session: string }) => resolve(n.session)); });
  const said = (session: string | null, command: object) =>
    socket.emitWithAck('command', { id: crypto.randomUUID(), session, saidAt: null, command });
  const started = (await said(null, { type: 'start', plan, freeAt: null })) as { refused?: { sentence: string } };
  if (started.refused) throw new Error(started.refused.sentence);
  const session = await news;
  return { socket, session, say: (command) => said(session, command) };
}

export const pause = (ms: number): Promise<void> => new Promise((resolve) => { setTimeout(resolve, ms); });
