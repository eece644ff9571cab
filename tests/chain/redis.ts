/**
 * Owns a real Redis for tests: the system's own program (Debian: redis-server) on a loopback
 * port of its own, keeping nothing. Null, with a printed reason, where it is not to be had.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { createClient } from 'redis';
import { freePort } from '../server/process.ts';

export interface TestRedis {
  readonly url: string;
  /** Ends it at once, with all that it knows, and starts it again. */
  readonly stop: () => Promise<void>;
  readonly start: () => Promise<void>;
}

export async function testRedis(): Promise<TestRedis | null> {
  if (spawnSync('redis-server', ['--version']).status !== 0) {
    process.stderr.write('not run: no Redis here. Install Debian\'s "redis-server".\n');
    return null;
  }
  const port = await freePort();
  const url = `redis://127.0.0.1:${port}`;
  let child: ChildProcess | null = null;
  async function start(): Promise<void> {
    child = spawn('redis-server', ['--port', String(port), '--bind', '127.0.0.1', '--save', '', '--appendonly', 'no', '--dir', '/tmp'], { stdio: 'ignore' });
    for (let tries = 0; tries < 300; tries += 1) {
      const probe = createClient({ url, socket: { reconnectStrategy: false } });
      probe.on('error', () => {});
      const up = await probe.connect().then(() => probe.ping()).then(() => true, () => false);
      if (probe.isOpen) probe.destroy();
      if (up) return;
      await new Promise((resolve) => { setTimeout(resolve, 100); });
    }
    throw new Error('Redis does not start');
  }
  const stop = () => new Promise<void>((resolve) => {
    if (!child || child.exitCode !== null || child.signalCode !== null) return resolve();
    child.once('exit', () => resolve());
    child.kill('SIGKILL');
  });
  // A run that breaks off leaves nothing behind.
  process.once('exit', () => { child?.kill('SIGKILL'); });
  await start();
  return { url, start, stop };
}
