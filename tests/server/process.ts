/** Owns the real server as a process of its own, to be killed, stopped, and started again on the same folder. */
import { type ChildProcess, spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

export const freePort = (): Promise<number> => new Promise((resolve) => {
  const probe = createServer().listen(0, '127.0.0.1', () => {
    const address = probe.address();
    probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
  });
});

export interface ServerProcess {
  readonly url: string;
  /** What it wrote on standard error. */
  readonly said: () => string;
  readonly end: (signal: 'SIGKILL' | 'SIGTERM') => Promise<number | null>;
}

const gone = (child: ChildProcess): Promise<number | null> => new Promise((resolve) => { child.once('exit', (code) => resolve(code)); });

/** From the sources, or as it was built into dist. */
const sources = '--import tsx server/main.ts';
const bundle = 'dist/server/main.js';

/** Starts without waiting. @param before shell words in front, such as a limit of file sizes */
export function launch(data: string, port: number, { before = '', built = false } = {}) {
  const child: ChildProcess = spawn('/bin/sh', ['-c', `${before} exec "${process.execPath}" ${built ? bundle : sources}`], {
    cwd: root,
    env: { ...process.env, HALLCLOCK_DATA: data, HALLCLOCK_PORT: String(port), HALLCLOCK_HOST: '127.0.0.1', HALLCLOCK_LOG: 'warn' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  child.stderr?.on('data', (text) => { said += String(text); });
  const ended = gone(child);
  return {
    pid: child.pid ?? 0,
    said: () => said,
    /** Resolves when it listens; rejects with what it said where it ended before. */
    listening: new Promise<void>((resolve, reject) => {
      child.stdout?.once('data', () => resolve());
      void ended.then((code) => reject(new Error(`${code}: ${said}`)));
    }),
    end: (signal: 'SIGKILL' | 'SIGTERM') => {
      child.kill(signal);
      return ended;
    },
  };
}

/** Resolves when it listens; rejects with what it said. */
export async function startProcess(data: string, port: number, before = ''): Promise<ServerProcess> {
  const { listening, said, end } = launch(data, port, { before });
  await listening;
  return { url: `http://127.0.0.1:${port}`, said, end };
}
