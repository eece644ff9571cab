/** Holds the keeper in PostgreSQL behind a real pooler (Debian: pgbouncer): by sessions it works, by transactions it is refused before anything is written. */
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, afterEach, expect, it } from 'vitest';
import { postgresStore } from '../../server/store/postgres.ts';
import { freePort } from '../server/process.ts';
import { testPostgres } from './postgres.ts';

const engine = await testPostgres();
const there = spawnSync('pgbouncer', ['--version']).status === 0;
if (!there) process.stderr.write('not run: no pooler here. Install Debian\'s "pgbouncer".\n');
const closing: (() => unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });
afterAll(() => engine?.close());

async function pooler(base: string, mode: 'session' | 'transaction'): Promise<string> {
  const url = new URL(base);
  const port = await freePort();
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-pooler-'));
  chmodSync(folder, 0o777);
  const file = join(folder, 'pooler.ini');
  writeFileSync(file, `[databases]\n${url.pathname.slice(1)} = host=${url.hostname} port=${url.port} user=${url.username}${url.password ? ` password=${decodeURIComponent(url.password)}` : ''}
[pgbouncer]\nlisten_addr = 127.0.0.1\nlisten_port = ${port}\nunix_socket_dir =\nauth_type = any\npool_mode = ${mode}\n`);
  // It does not run as root either.
  const child = spawn('pgbouncer', [...(process.getuid?.() === 0 ? ['-u', 'postgres'] : []), file], { stdio: 'ignore' });
  closing.push(() => { child.kill(); rmSync(folder, { recursive: true, force: true }); });
  url.port = String(port);
  url.hostname = '127.0.0.1';
  await expect.poll(async () => {
    const client = new pg.Client({ connectionString: url.href });
    client.on('error', () => {});
    return client.connect().then(() => client.end()).then(() => true, () => false);
  }, { timeout: 30_000, interval: 100 }).toBe(true);
  return url.href;
}

it.skipIf(!engine || !there)('K526 behind a pooler that gives each transaction another connection the start is refused, and says why; by sessions each studio has its own', async () => {
  const base = await engine?.database() ?? '';
  await expect(postgresStore(await pooler(base, 'transaction'), () => {}, 'north')).rejects.toThrow(/pooler that gives each transaction another connection.*pool_mode = session/);
  const admin = new pg.Client({ connectionString: base });
  await admin.connect();
  closing.push(() => admin.end());
  expect((await admin.query("SELECT 1 FROM pg_tables WHERE schemaname = 'public'")).rows).toEqual([]);
  const bySession = await pooler(base, 'session');
  for (const studio of ['north', 'south']) {
    const store = await postgresStore(bySession, () => {}, studio);
    expect(await store.pair('token', studio, 1_000)).toBe(true);
    expect((await store.phones()).map((p) => p.room)).toEqual([studio]);
    await store.stop();
  }
});
