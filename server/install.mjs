/** Owns having the packages: installs them when they are missing or older than the lock. Needs only Node and npm. */
import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** Runs a command to its end, showing what it says; leaves with its code if it fails. */
export function run(command, args, options = {}) {
  const { status, error } = spawnSync(command, args, { cwd: root, stdio: 'inherit', ...options });
  if (error) {
    console.error(`${command} could not be started: ${error.message}`);
    process.exit(1);
  }
  return status ?? 1;
}

export function install() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    console.error(`Hallclock needs Node 20.19 or later; this is ${process.versions.node}.`);
    process.exit(1);
  }
  const mark = join(root, 'node_modules/.package-lock.json');
  const lock = join(root, 'package-lock.json');
  if (existsSync(mark) && statSync(mark).mtimeMs >= statSync(lock).mtimeMs) return;
  console.error('Installing what Hallclock needs (once; a few minutes on a small computer) …');
  const status = run('npm', ['ci', '--no-audit', '--no-fund'], { shell: process.platform === 'win32' });
  if (status !== 0) {
    console.error('The packages could not be installed. Is this computer on the internet for the first start?');
    process.exit(status);
  }
}
