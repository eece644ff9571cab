/** Owns finding a Chromium for the browser tests, or having the system's package manager install one. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const places = [
  process.env.HALLCLOCK_CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];
const found = () => places.find((place) => place && existsSync(place)) ?? null;

/** The path of a Chromium, or null where there is none and none can be installed. */
export function chromium() {
  const here = found();
  if (here || !existsSync('/usr/bin/apt-get') || process.getuid?.() !== 0) return here;
  console.error('Installing the system\'s Chromium for the browser tests …');
  const quiet = { stdio: ['ignore', 'ignore', 'inherit'], env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  spawnSync('apt-get', ['update'], quiet);
  spawnSync('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], quiet);
  return found();
}
