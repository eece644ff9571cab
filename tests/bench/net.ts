/**
 * Owns the bench of the shown clock with real browsers on real sockets: server, road, screen and
 * phone each in a network namespace of their own. Needs Linux, root and `ip`; says so where they are not.
 */
import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from '@playwright/test';
import { placeAt } from '../../shared/session/place.ts';
import { replay } from '../../shared/session/evolve.ts';
import { serverAt } from '../../shared/time/units.ts';
import { begin, builtServer, connect, joinAs, pause } from './server.ts';
import { median, percentile, table } from './table.ts';

const SECONDS = 40;
const NET = '10.99.73';
const names = ['server', 'road', 'screen', 'phone'] as const;
const ns = (name: string) => `hallclock-${name}`;
const ip = (...args: string[]) => execFileSync('ip', args, { stdio: 'pipe' });
const roads = [
  { what: 'a wire', upMs: 0, downMs: 0, loss: 0, port: 8080, host: `${NET}.1` },
  { what: 'Wi-Fi, up 4 ms + lognormal, down 2 ms + lognormal', upMs: 4, downMs: 2, loss: 0, port: 9001, host: `${NET}.2` },
  { what: 'the same with 2 % lost', upMs: 4, downMs: 2, loss: 0.02, port: 9002, host: `${NET}.2` },
] as const;
const plan = {
  format: 1, id: 'bench', name: 'Bench',
  sections: [
    { id: 'welcome', kind: 'welcome', talk: 30 },
    { id: 'main', kind: 'main', rounds: 1, work: 1_800, rest: 20, show: 'none', items: [{ movement: 'squat' }] },
  ],
};

function raise(): void {
  ip('link', 'add', 'hallclock0', 'type', 'bridge');
  ip('addr', 'add', `${NET}.254/24`, 'dev', 'hallclock0');
  ip('link', 'set', 'hallclock0', 'up');
  for (const [k, name] of names.entries()) {
    ip('netns', 'add', ns(name));
    ip('link', 'add', `hallclock-v${k}`, 'type', 'veth', 'peer', 'name', 'eth0', 'netns', ns(name));
    ip('link', 'set', `hallclock-v${k}`, 'master', 'hallclock0', 'up');
    ip('-n', ns(name), 'addr', 'add', `${NET}.${k + 1}/24`, 'dev', 'eth0');
    for (const device of ['lo', 'eth0']) ip('-n', ns(name), 'link', 'set', device, 'up');
  }
}
function lower(): void {
  for (const args of [...names.flatMap((name, k) => [['link', 'del', `hallclock-v${k}`], ['netns', 'del', ns(name)]]), ['link', 'del', 'hallclock0']]) {
    try {
      ip(...args);
    } catch {
      // It was not there.
    }
  }
}
const inside = (name: string) => ['ip', 'netns', 'exec', ns(name)];

/** A browser that lives in a namespace. */
function browserIn(name: string) {
  const file = join(mkdtempSync(join(tmpdir(), 'hallclock-bench-')), 'chromium');
  writeFileSync(file, `#!/bin/sh\nexec ${inside(name).join(' ')} ${process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium'} "$@"\n`);
  chmodSync(file, 0o755);
  const args = ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'];
  return chromium.launch({ executablePath: file, args });
}

/** Server time less this machine's, by the quickest of many samples on a road of its own. */
async function serverAhead(url: string): Promise<number> {
  const socket = await connect(url);
  let best = { tookMs: Number.POSITIVE_INFINITY, aheadMs: 0 };
  for (let k = 0; k < 100; k += 1) {
    const from = performance.timeOrigin + performance.now();
    const { receivedAt, sentAt } = (await socket.emitWithAck('sample')) as { receivedAt: number; sentAt: number };
    const until = performance.timeOrigin + performance.now();
    if (until - from < best.tookMs) best = { tookMs: until - from, aheadMs: (receivedAt + sentAt - from - until) / 2 };
  }
  socket.disconnect();
  return best.aheadMs;
}

async function measure(): Promise<void> {
  const data = mkdtempSync(join(tmpdir(), 'hallclock-bench-'));
  mkdirSync(join(data, 'plans'));
  writeFileSync(join(data, 'plans', 'bench.json'), JSON.stringify(plan));
  const env = { HALLCLOCK_PORT: '8080', HALLCLOCK_HOST: `${NET}.1`, HALLCLOCK_TIME_ZONE: 'UTC', HALLCLOCK_ROOMS: 'r0:r0', HALLCLOCK_LOG: 'error' };
  const server = await begin([builtServer], env, data, inside('server'));
  const direct = `http://${NET}.1:8080`;
  const relays = [];
  for (const r of roads.slice(1)) {
    relays.push(await begin([join(import.meta.dirname, 'net-road.mjs'), String(r.port), `${NET}.1`, String(r.upMs), String(r.downMs), String(r.loss)], {}, undefined, inside('road')));
  }
  const [wall, hand] = [await browserIn('screen'), await browserIn('phone')];
  const first = await joinAs(direct, 'screen', 'r0');
  const phone = await hand.newPage({ viewport: { width: 390, height: 844 } });
  await phone.goto(`http://${NET}.2:9001/phone?code=${first.snapshot.pairing?.code}`);
  await phone.getByRole('button', { name: /^Bench/ }).click();
  await phone.getByRole('button', { name: 'Start' }).click();
  await phone.locator('.big[data-does=go]').waitFor();
  await pause(900);
  await phone.locator('.big').click();
  await pause(4_500);
  const { socket, snapshot } = await joinAs(direct, 'screen', 'r0');
  for (const s of [socket, first.socket]) s.disconnect();
  const session = replay(snapshot.session?.events ?? []);
  const aheadMs = await serverAhead(direct);
  const at = Math.floor(performance.timeOrigin + performance.now() + aheadMs);
  const place = session && placeAt(session, serverAt(at));
  const interval = place && session.intervals[place.index];
  if (!place || interval?.kind !== 'work') throw new Error('no work is running');
  const endsAt = at + place.countInMs + interval.lengthMs - place.elapsedMs;
  const rows: (string | number)[][] = [['the screen is behind', 'n', 'median', 'p5', 'p95', 'most, either way']];
  for (const road of roads) {
    const page = await wall.newPage({ viewport: { width: 1280, height: 720 } });
    // The program that reads TypeScript names functions through this, which a page does not have.
    await page.addInitScript('globalThis.__name = (f) => f');
    await page.goto(`http://${road.host}:${road.port}/screen`);
    await page.locator('.class[data-phase=work] .seconds').waitFor();
    const seen = await page.evaluate((ms) => new Promise<number[]>((resolve) => {
      const out: number[] = [];
      const text = () => document.querySelector('.class .seconds')?.textContent;
      let last = text();
      const until = performance.now() + ms;
      const look = () => {
        if (text() !== last) out.push(performance.timeOrigin + performance.now());
        last = text();
        if (performance.now() > until) resolve(out);
        else requestAnimationFrame(look);
      };
      requestAnimationFrame(look);
    }), SECONDS * 1_000);
    // A second changes on the shown clock a whole number of seconds before the end.
    const late = seen.map((at) => {
      const over = (((at + aheadMs - endsAt) % 1_000) + 1_000) % 1_000;
      return over > 500 ? over - 1_000 : over;
    });
    rows.push([road.what, String(late.length), median(late), percentile(late, 0.05), percentile(late, 0.95), Math.max(...late.map(Math.abs))]);
    await page.close();
  }
  await Promise.all([wall.close(), hand.close()]);
  for (const running of [...relays, server]) await running.close();
  table(`When the second changes on the screen against the server's clock, ms; a frame (up to 16.7 and the turn it takes) is in it; ${SECONDS} s each`, rows);
}

export async function run(): Promise<void> {
  try {
    lower();
    raise();
  } catch (error) {
    lower();
    process.stdout.write(`\nnet was not run: this machine allows no network namespaces (${String(error).split('\n')[0]}).\n`);
    return;
  }
  try {
    await measure();
  } finally {
    lower();
  }
}
