/** Owns a studio for browser tests: the built server as a process of its own, on a port and a folder of its own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { PlanInput } from '../../shared/plan/plan.ts';
import { earlierStart } from '../inside.ts';

const root = join(import.meta.dirname, '../..');

async function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => (address && typeof address === 'object' ? resolve(address.port) : reject(new Error('no port'))));
    });
  });
}

export interface Studio {
  readonly url: string;
  readonly data: string;
  /** What it has written to its log so far. */
  said(): string;
  /** Starts the server and waits until it answers. */
  start(): Promise<void>;
  /** Ends it without asking, as a power cut does. */
  kill(): Promise<void>;
  /** Ends it and removes its folder. */
  close(): Promise<void>;
}

/** @param rooms as HALLCLOCK_ROOMS has them @param env more settings */
export async function studio(plans: readonly PlanInput[], rooms = 'garden:Garden room', from = root, env: Record<string, string> = {}): Promise<Studio> {
  const port = await freePort();
  const data = mkdtempSync(join(tmpdir(), 'hallclock-'));
  mkdirSync(join(data, 'plans'), { recursive: true });
  for (const plan of plans) writeFileSync(join(data, 'plans', `${plan.id}.json`), JSON.stringify(plan));
  earlierStart(data);
  const url = `http://127.0.0.1:${port}`;
  let child: ChildProcess | null = null;
  let said = '';
  const exit = (signal: NodeJS.Signals) => new Promise<void>((resolve) => {
    const running = child;
    child = null;
    if (!running || running.exitCode !== null) return resolve();
    running.once('exit', () => resolve());
    running.kill(signal);
  });
  return {
    url,
    data,
    said: () => said,
    async start() {
      child = spawn(process.execPath, [join(from, 'dist/server/main.js')], {
        cwd: from,
        stdio: ['ignore', 'ignore', 'pipe'],
        env: { ...process.env, HALLCLOCK_PORT: String(port), HALLCLOCK_HOST: '127.0.0.1', HALLCLOCK_DATA: data, HALLCLOCK_ROOMS: rooms, HALLCLOCK_TIME_ZONE: 'UTC', ...env },
      });
      child.stderr?.on('data', (bytes: Buffer) => {
        said += bytes.toString();
        process.stderr.write(bytes);
      });
      for (let tries = 0; tries < 200; tries += 1) {
        const answer = await fetch(`${url}/api/health`).catch(() => null);
        if (answer?.ok) return;
        await new Promise((resolve) => { setTimeout(resolve, 50); });
      }
      throw new Error(`the server at ${url} does not answer`);
    },
    kill: () => exit('SIGKILL'),
    async close() {
      await exit('SIGTERM');
      rmSync(data, { recursive: true, force: true });
    },
  };
}

/** A class of some two minutes with everything in it: talk, show, both sides, a rest, a clear-up. */
export const shortPlan: PlanInput = {
  format: 1, id: 'short', name: 'Short class', group: 'general',
  sections: [
    { id: 'welcome', kind: 'welcome', talk: 10 },
    { id: 'main', kind: 'main', show: 'none', rest: 6, items: [{ movement: 'squat', work: 20 }, { movement: 'reverse-lunge', work: 24 }, { movement: 'glute-bridge', work: 10 }] },
    { id: 'clear-up', kind: 'clear-up', talk: 10 },
  ],
};
