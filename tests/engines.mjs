/**
 * Owns having PostgreSQL and Redis for the tests of several servers, from Debian's packages, where `.ci/run` may install
 * them. Leaves alone starting them (tests/chain). Without them those tests say that they did not run.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';

// The folder alone may be that of its client.
const programs = '/usr/lib/postgresql';
const postgres = existsSync(programs) && readdirSync(programs).some((version) => existsSync(`${programs}/${version}/bin/initdb`));
const missing = [
  !process.env.HALLCLOCK_TEST_DATABASE && !postgres && 'postgresql',
  spawnSync('redis-server', ['--version']).status !== 0 && 'redis-server',
].filter(Boolean);

if (missing.length > 0 && existsSync('/usr/bin/apt-get') && process.getuid?.() === 0) {
  console.error(`Installing for the tests of several servers: ${missing.join(', ')} …`);
  const apt = (...args) => spawnSync('apt-get', ['-o', 'Acquire::Retries=2', '-o', 'Acquire::http::Timeout=30', ...args], {
    stdio: ['ignore', 'ignore', 'inherit'], timeout: 300_000, env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  }).status === 0;
  const done = () => apt('update') && apt('install', '-y', '--no-install-recommends', ...missing);
  // A mirror that is busy is asked once more.
  if (!done()) {
    await wait(5_000);
    done();
  }
}
