/**
 * Owns what the review costs at scale: ten years of a busy studio, 20,000 classes of 60 events
 * (tests/review/years.ts), asked over HTTP of the built server. In a folder of its own, made anew
 * each time; HALLCLOCK_YEARS names one that is there already.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeYears } from '../review/years.ts';
import { earlierStart, insideCookie } from '../inside.ts';
import { percentile, table } from './table.ts';

const root = join(import.meta.dirname, '../..');
const PORT = 8397;
const CLASSES = 20_000;
const LOOKS = 15;
const url = `http://127.0.0.1:${PORT}`;
const waitMs = (ms: number) => new Promise((resolve) => { setTimeout(resolve, ms); });
const megabytes = (file: string): string => (existsSync(file) ? `${Math.round(statSync(file).size / 1e6)} MB` : '-');

const questions: readonly (readonly [string, string])[] = [
  ['the review, 12 weeks', '/api/review?from=2026-09-DAY'], ['the review, ten years', '/api/review?from=2010-01-DAY'],
  ['the review, ten years of one plan', '/api/review?from=2010-01-DAY&plan=forty-twenty'],
  ['the review, ten years of one time of the week', '/api/review?from=2010-01-DAY&series=garden%202%2007:00'],
  ['the log, newest page', '/api/classes?limit=30'], ['the log, a page of years ago', '/api/classes?limit=30&before=4000'], ['all rooms now', '/api/live'],
];

async function until(is: () => Promise<boolean>, mostMs: number): Promise<number> {
  const from = performance.now();
  while (performance.now() - from < mostMs) {
    if (await is().catch(() => false)) return performance.now() - from;
    await waitMs(250);
  }
  throw new Error('it took too long');
}

export async function run(): Promise<void> {
  const given = process.env.HALLCLOCK_YEARS;
  const data = given ?? mkdtempSync(join(tmpdir(), 'hallclock-years-'));
  if (given === undefined) makeYears({ data, classes: CLASSES, events: 60, seed: 1, until: '2026-11-25', rooms: ['garden', 'street'], different: 300 });
  earlierStart(data);
  const server: ChildProcess = spawn(process.execPath, [join(root, 'dist/server/main.js')], {
    cwd: root, stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, HALLCLOCK_PORT: String(PORT), HALLCLOCK_HOST: '127.0.0.1', HALLCLOCK_DATA: data, HALLCLOCK_TIME_ZONE: 'UTC', HALLCLOCK_KEEP_DAYS: '0' },
  });
  const ask = async (path: string) => (await fetch(url + path, { headers: { cookie: insideCookie } })).json() as Promise<{ toRead?: number; classes?: { id: string }[] }>;
  try {
    const startedMs = await until(async () => (await fetch(`${url}/api/health`)).ok, 180_000);
    const readMs = await until(async () => (await ask('/api/review')).toRead === 0, 900_000);
    const newest = (await ask('/api/classes?limit=1')).classes?.[0]?.id ?? '';
    const rows: (string | number)[][] = [];
    for (const [name, path] of [...questions, ['one class, its log', `/api/classes/${newest}`], ['one class in figures', `/api/classes/${newest}/record`]] as const) {
      const times: number[] = [];
      let bytes = 0;
      for (let k = 0; k < LOOKS; k += 1) {
        const from = performance.now();
        // Another range each time, so that no answer is one that was kept.
        bytes = (await (await fetch(url + path.replace('DAY', String(k + 1).padStart(2, '0')), { headers: { cookie: insideCookie } })).arrayBuffer()).byteLength;
        times.push(performance.now() - from);
      }
      rows.push([name, percentile(times, 0.5), percentile(times, 0.95), `${Math.round(bytes / 1_000)} kB`]);
    }
    const from = performance.now();
    const bytes = (await (await fetch(`${url}/api/export.csv?from=2010-01-01`, { headers: { cookie: insideCookie } })).arrayBuffer()).byteLength;
    rows.push(['export of all as a table, once', performance.now() - from, performance.now() - from, `${Math.round(bytes / 1_000)} kB`]);
    table('The review over ten years, ms (to reach: a median under 300)', [['', 'median', 'p95', 'answer'], ...rows]);
    process.stdout.write(`log ${megabytes(join(data, 'hallclock.db'))}, records ${megabytes(join(data, 'records.db'))}; ready after ${(startedMs / 1_000).toFixed(1)} s; all classes read once in ${(readMs / 1_000).toFixed(0)} s\n`);
  } finally {
    server.kill('SIGTERM');
    if (given === undefined) rmSync(data, { recursive: true, force: true });
  }
}
