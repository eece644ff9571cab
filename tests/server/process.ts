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

/** @param before shell words in front, such as a limit of file sizes. Resolves when it listens; rejects with what it said. */
export async function startProcess(data: string, port: number, before = ''): Promise<ServerProcess> {
  const command = `${before} exec "${process.execPath}" --import tsx server/main.ts`;
  const child = spawn('/bin/sh', ['-c', command], {
    cwd: root,
    env: { ...process.env, HALLCLOCK_DATA: data, HALLCLOCK_PORT: String(port), HALLCLOCK_HOST: '127.0.0.1', HALLCLOCK_LOG: 'warn' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  child.stderr.on('data', (text) => { said += String(text); });
  await new Promise<void>((resolve, reject) => {
    child.stdout.once('data', () => resolve());
    child.once('exit', (code) => reject(new Error(`${code}: ${said}`)));
  });
  return {
    url: `http://127.0.0.1:${port}`,
    said: () => said,
    end: (signal) => {
      const done = gone(child);
      child.kill(signal);
      return done;
    },
  };
}
