/**
 * Owns `npm start`: from a fresh clone to a running class clock, with nothing but
 * Node. Installs and builds where needed, starts the server, says where it is, and
 * starts it again should it ever fall over. `--demo` lets a class run by itself.
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const at = (...path) => join(root, ...path);
const demo = process.argv.includes('--demo');
const say = (text) => process.stdout.write(`${text}\n`);

/** The server's own way of saying that somebody has to change something first. */
const NEEDS_SOMEBODY = 2;
/** A server that falls over so soon after its start is started again a little later each time. */
const SOON_MS = 5_000;
const AGAIN_MOST_MS = 5_000;
/** So many times in a row, about half a minute, and starting again will not help. */
const FAILURES_MOST = 10;

function stopWith(sentence) {
  process.stderr.write(`${sentence}\n`);
  process.exit(1);
}

function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) stopWith(`Hallclock needs Node 20.19 or later; this is ${process.versions.node}.`);
}

const readJson = (path) => JSON.parse(readFileSync(path, 'utf8'));

/** Whether what is installed is what the lock says. */
function installed() {
  const have = at('node_modules', '.package-lock.json');
  if (!existsSync(have)) return false;
  if (!existsSync(at('package-lock.json'))) return true;
  const is = readJson(have).packages;
  return Object.entries(readJson(at('package-lock.json')).packages)
    .every(([path, p]) => path === '' || p.optional || p.devOptional || p.peer || is[path]?.version === p.version);
}

function install() {
  say('Installing what Hallclock is made of (once; a few minutes at most) ...');
  const command = existsSync(at('package-lock.json')) ? 'ci' : 'install';
  const args = [command, '--include=dev', '--no-audit', '--no-fund'];
  const npm = process.env.npm_execpath;
  const done = npm
    ? spawnSync(process.execPath, [npm, ...args], { cwd: root, stdio: 'inherit' })
    : spawnSync('npm', args, { cwd: root, stdio: 'inherit', shell: process.platform === 'win32' });
  if (done.status !== 0) stopWith('Installing did not work; npm says why above. This once, the computer needs the internet.');
}

function newest(path) {
  const entry = statSync(path);
  if (!entry.isDirectory()) return entry.mtimeMs;
  return readdirSync(path).filter((name) => !name.startsWith('.') && !/\.test\.tsx?$/.test(name))
    .reduce((most, name) => Math.max(most, newest(join(path, name))), entry.mtimeMs);
}

function built() {
  const stamp = at('dist', 'build.json');
  if (!existsSync(stamp) || !existsSync(at('dist', 'server', 'main.js'))) return false;
  const { at: builtAt } = readJson(stamp);
  return ['server', 'shared', 'display', 'remote', 'package.json'].every((path) => newest(at(path)) <= builtAt);
}

function make() {
  say('Building the pages and the server ...');
  const done = spawnSync(process.execPath, [at('server', 'build.mjs')], { cwd: root, stdio: 'inherit' });
  if (done.status !== 0) stopWith('Building did not work; the reason stands above.');
}

async function announce(address, firstPassword, fingerprint) {
  const { default: qrcode } = await import('qrcode');
  say('');
  say(await qrcode.toString(`${address}/`, { type: 'terminal', small: true }));
  say(`  Open this on the screen:  ${address}/`);
  say(`  Plans and logs:           ${address}/desk`);
  if (firstPassword) say(`  The desk's password:      ${firstPassword}   (shown only now; write it down)`);
  if (fingerprint) {
    say('  Its certificate is its own, so every browser warns once. Go on only where it shows this SHA-256 fingerprint:');
    say(`    ${fingerprint.slice(0, 47)}`);
    say(`    ${fingerprint.slice(48)}`);
  }
  say('  The screen shows how a phone joins. Ctrl+C ends.');
  say('');
}

/** Whoever can reach the machine itself may have a new password for the desk; browsers that were in are out. */
function forgetPassword() {
  rmSync(join(resolve(root, process.env.HALLCLOCK_DATA || '.data'), 'access.json'), { force: true });
  say('The desk\'s password was forgotten; the next start makes a new one.');
}

function run() {
  const env = { ...process.env, NODE_ENV: 'production' };
  const folder = demo ? mkdtempSync(join(tmpdir(), 'hallclock-demo-')) : null;
  if (folder) env.HALLCLOCK_DATA = folder;
  let announced = false;
  let named = '';
  let stopping = false;
  let failures = 0;
  let server = null;
  let actor = null;

  const start = () => {
    const startedAt = performance.now();
    server = spawn(process.execPath, [at('dist', 'server', 'main.js')], { cwd: root, env, stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
    server.on('message', (message) => {
      if (message.short && named !== message.short) {
        named = message.short;
        say(`  By its short name too:     ${named}`);
      }
      if (announced || !message.listening) return;
      announced = true;
      void announce(message.listening, message.firstPassword, message.fingerprint);
      const secure = message.listening.startsWith('https:');
      // The one that presses by itself knows the server's own certificate from the folder.
      const known = secure && message.fingerprint ? { NODE_EXTRA_CA_CERTS: join(resolve(root, env.HALLCLOCK_DATA || '.data'), 'tls', 'cert.pem') } : {};
      if (demo) actor = spawn(process.execPath, [at('dist', 'server', 'demo.js'), secure ? (message.fingerprint ? `https://localhost:${message.port}` : message.listening) : `http://localhost:${message.port}`], { cwd: root, stdio: 'inherit', env: { ...env, ...known } });
    });
    server.on('exit', (code) => {
      if (stopping || code === 0) return end(0);
      if (code === NEEDS_SOMEBODY) return end(1);
      failures = performance.now() - startedAt < SOON_MS ? failures + 1 : 0;
      if (failures === FAILURES_MOST) {
        process.stderr.write(`The server stopped ${FAILURES_MOST} times right after its start. The reason stands above; nothing of what was kept is lost. Start it again once that is put right.\n`);
        return end(1);
      }
      // The first time at once: a class may be running.
      const waitMs = failures <= 1 ? 0 : Math.min(AGAIN_MOST_MS, 125 * 2 ** failures);
      process.stderr.write(`The server stopped by itself${waitMs > 0 ? `; starting again in ${waitMs / 1_000} s` : '; starting again'}.\n`);
      setTimeout(start, waitMs);
    });
  };
  const end = (code) => {
    actor?.kill();
    if (folder) rmSync(folder, { recursive: true, force: true });
    process.exit(code);
  };
  for (const signal of ['SIGINT', 'SIGTERM']) {
    process.on(signal, () => {
      stopping = true;
      server?.kill('SIGTERM');
    });
  }
  start();
}

checkNode();
if (process.argv.includes('--new-password')) forgetPassword();
if (!installed()) install();
if (!built()) make();
run();
