/**
 * Holds `npm start` as it is: the real file in a folder of its own, beside a server of
 * a few lines that does what a test wants, and beside an npm that writes down what it was asked.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folders: string[] = [];
const children: ChildProcess[] = [];
afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL');
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A clone that is built, with this for its server. */
function clone(server: string, installed = true): string {
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-start-'));
  folders.push(folder);
  for (const name of ['server', 'shared', 'display', 'remote', 'dist/server']) mkdirSync(join(folder, name), { recursive: true });
  copyFileSync(join(root, 'server/start.mjs'), join(folder, 'server/start.mjs'));
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
  writeFileSync(join(folder, 'dist/server/main.js'), `import { appendFileSync } from 'node:fs';\nappendFileSync('starts', process.pid + '\\n');\n${server}`);
  writeFileSync(join(folder, 'dist/build.json'), JSON.stringify({ build: 'test', at: Date.now() + 60_000 }));
  if (installed) symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  return folder;
}
/** Its waits are twenty times as short. */
const hurry = 'data:text/javascript,const wait = globalThis.setTimeout; globalThis.setTimeout = (run, ms) => wait(run, ms / 20);';

function start(folder: string, env: Record<string, string> = {}) {
  const child = spawn(process.execPath, ['--import', hurry, join(folder, 'server/start.mjs')], { cwd: folder, env: { ...process.env, ...env } });
  children.push(child);
  let said = '';
  for (const out of [child.stdout, child.stderr]) out.on('data', (text) => { said += String(text); });
  return { child, said: () => said, ended: new Promise<number | null>((resolve) => { child.once('exit', resolve); }) };
}
const startsOf = (folder: string): number[] =>
  existsSync(join(folder, 'starts')) ? readFileSync(join(folder, 'starts'), 'utf8').trim().split('\n').map(Number) : [];
async function until(holds: () => boolean, what: string): Promise<void> {
  for (let n = 0; n < 400; n += 1) {
    if (holds()) return;
    await new Promise((resolve) => { setTimeout(resolve, 25); });
  }
  throw new Error(`it did not come to this: ${what}`);
}
const listens = "process.send({ listening: 'http://hall.test:8080', port: 8080 });\nprocess.on('SIGTERM', () => process.exit(0));\nsetInterval(() => {}, 1000);";

it('K44 a server that was killed is started again at once, says where it is only once, and ends when it is asked to', async () => {
  const folder = clone(listens);
  const running = start(folder);
  await until(() => running.said().includes('http://hall.test:8080/desk'), 'it says where it is');
  process.kill(startsOf(folder)[0] ?? 0, 'SIGKILL');
  await until(() => startsOf(folder).length === 2, 'a second start');
  expect(running.said()).toContain('The server stopped by itself; starting again.');
  expect(running.said().split('Open this on the screen').length).toBe(2);
  running.child.kill('SIGTERM');
  expect(await running.ended).toBe(0);
  expect(startsOf(folder)).toHaveLength(2);
});

it('K44 a server that falls over at each start is started ever later, and given up with words', async () => {
  const folder = clone("process.stderr.write('no such thing\\n'); process.exit(1);");
  const running = start(folder);
  expect(await running.ended).toBe(1);
  expect(startsOf(folder)).toHaveLength(10);
  expect(running.said()).toMatch(/starting again\.[\s\S]*again in 0\.5 s[\s\S]*again in 1 s[\s\S]*again in 5 s[\s\S]*stopped 10 times right after its start\. The reason stands above/);
});

it('K44 what somebody has to put right first is not tried again', async () => {
  const folder = clone('process.exit(2);');
  expect(await start(folder).ended).toBe(1);
  expect(startsOf(folder)).toHaveLength(1);
});

it('K45 what is not there is installed as the lock says; where that does not work, a sentence says so and nothing is started', async () => {
  const folder = clone(listens, false);
  writeFileSync(join(folder, 'package-lock.json'), '{"packages":{}}');
  const npm = join(folder, 'npm.mjs');
  writeFileSync(npm, "import { writeFileSync } from 'node:fs';\nwriteFileSync('asked', process.argv.slice(2).join(' '));\nprocess.exit(1);");
  const running = start(folder, { npm_execpath: npm });
  expect(await running.ended).toBe(1);
  expect(readFileSync(join(folder, 'asked'), 'utf8')).toMatch(/^ci /);
  expect(running.said()).toContain('Installing did not work; npm says why above.');
  expect(startsOf(folder)).toHaveLength(0);
});

it('K45 the tests too install what is missing or older than the lock, and say so where that does not work', async () => {
  const folder = clone(listens, false);
  copyFileSync(join(root, 'server/install.mjs'), join(folder, 'server/install.mjs'));
  writeFileSync(join(folder, 'package-lock.json'), '{"packages":{}}');
  const bin = join(folder, 'bin');
  mkdirSync(bin);
  writeFileSync(join(bin, 'npm'), '#!/bin/sh\necho "$@" > asked\nexit "$NPM_ENDS"\n', { mode: 0o755 });
  const install = (ends: number) => new Promise<{ code: number | null; said: string }>((resolve) => {
    const child = spawn(process.execPath, ['-e', "import('./server/install.mjs').then((m) => m.install())"], {
      cwd: folder, env: { ...process.env, PATH: `${bin}:${process.env.PATH}`, NPM_ENDS: String(ends) },
    });
    let said = '';
    child.stderr.on('data', (text) => { said += String(text); });
    child.once('exit', (code) => resolve({ code, said }));
  });
  const failed = await install(3);
  expect(failed.code).toBe(3);
  expect(failed.said).toContain('The packages could not be installed.');
  expect(readFileSync(join(folder, 'asked'), 'utf8')).toMatch(/^ci /);
  expect((await install(0)).code).toBe(0);
  rmSync(join(folder, 'asked'));
  mkdirSync(join(folder, 'node_modules'));
  writeFileSync(join(folder, 'node_modules/.package-lock.json'), '{}');
  expect(await install(3)).toEqual({ code: 0, said: '' });
  expect(existsSync(join(folder, 'asked'))).toBe(false);
});
