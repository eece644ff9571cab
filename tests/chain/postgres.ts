/**
 * Owns a PostgreSQL for tests: the system's own programs (Debian: postgresql) on a folder
 * and a loopback port of its own, or the one that HALLCLOCK_TEST_DATABASE names. Null,
 * with a printed reason, where neither is to be had.
 */
import { execFileSync, spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';

export interface TestPostgres {
  /** Makes an empty database and gives its address. */
  readonly database: () => Promise<string>;
  /** Stops the engine at once, as a power cut does, and starts it again. */
  readonly stop: () => Promise<void>;
  readonly start: () => Promise<void>;
  readonly close: () => Promise<void>;
}

const PROGRAMS = '/usr/lib/postgresql';

function programs(): string | null {
  if (!existsSync(PROGRAMS)) return null;
  const newest = readdirSync(PROGRAMS).map(Number).filter((n) => n >= 13).sort((a, b) => b - a)[0];
  const bin = newest === undefined ? null : join(PROGRAMS, String(newest), 'bin');
  return bin !== null && existsSync(join(bin, 'postgres')) ? bin : null;
}

const freePort = (): Promise<number> => new Promise((resolve, reject) => {
  const probe = createServer().once('error', reject).listen(0, '127.0.0.1', () => {
    const address = probe.address();
    probe.close(() => (address && typeof address === 'object' ? resolve(address.port) : reject(new Error('no port'))));
  });
});

let count = 0;
async function emptyDatabase(base: string): Promise<string> {
  count += 1;
  const name = `hallclock_${process.pid}_${count}`;
  const client = new pg.Client({ connectionString: base });
  await client.connect();
  await client.query(`CREATE DATABASE ${name}`);
  await client.end();
  const url = new URL(base);
  url.pathname = `/${name}`;
  return url.href;
}

export async function testPostgres(): Promise<TestPostgres | null> {
  const given = process.env.HALLCLOCK_TEST_DATABASE;
  const cannot = () => Promise.reject(new Error('a given PostgreSQL is not stopped by tests'));
  if (given) return { database: () => emptyDatabase(given), stop: cannot, start: cannot, close: async () => {} };
  const bin = programs();
  if (!bin) {
    process.stderr.write('not run: no PostgreSQL here. Install Debian\'s "postgresql", or set HALLCLOCK_TEST_DATABASE.\n');
    return null;
  }
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-postgres-'));
  chmodSync(folder, 0o777);
  const port = await freePort();
  // PostgreSQL does not run as root: Debian's package brings a user for it.
  const root = process.getuid?.() === 0;
  const numbers = (flag: string) => Number(execFileSync('id', [flag, 'postgres'], { encoding: 'utf8' }));
  const as = root ? { uid: numbers('-u'), gid: numbers('-g') } : {};
  const data = join(folder, 'data');
  execFileSync(join(bin, 'initdb'), ['-D', data, '-U', 'hall', '-A', 'trust', '-E', 'UTF8', '--no-sync'], { ...as, cwd: folder, stdio: 'ignore' });
  const base = `postgres://hall@127.0.0.1:${port}/postgres`;
  let child: ReturnType<typeof spawn> | null = null;

  async function start(): Promise<void> {
    child = spawn(join(bin ?? '', 'postgres'), ['-D', data, '-p', String(port), '-h', '127.0.0.1', '-k', folder, '-c', 'max_connections=200', '-c', 'fsync=off'], { ...as, cwd: folder, stdio: 'ignore' });
    for (let tries = 0; tries < 300; tries += 1) {
      const client = new pg.Client({ connectionString: base });
      try {
        await client.connect();
        await client.end();
        return;
      } catch {
        await new Promise((resolve) => { setTimeout(resolve, 100); });
      }
    }
    throw new Error('PostgreSQL does not start');
  }
  const stop = () => new Promise<void>((resolve) => {
    if (!child || child.exitCode !== null) return resolve();
    child.once('exit', () => resolve());
    // Its fast shutdown of no promise: an immediate one, which recovers at the next start.
    child.kill('SIGQUIT');
  });
  // A run that breaks off leaves nothing behind.
  process.once('exit', () => { child?.kill('SIGQUIT'); });
  await start();
  return {
    database: () => emptyDatabase(base), start, stop,
    close: async () => {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
