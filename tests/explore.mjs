/** Owns `npm run explore -- --minutes 10`: the random tests with new seeds until the time is up or one fails. */
import { parseArgs } from 'node:util';
import { root, run } from '../server/install.mjs';

const { values } = parseArgs({ options: { minutes: { type: 'string', default: '10' }, seed: { type: 'string' } } });
const files = ['tests/property', 'tests/ways', 'tests/view', 'tests/sound/signals.test.ts', 'shared/ui/boards.test.ts', 'shared/time', 'shared/coach', 'shared/effort'];
const until = Date.now() + Number(values.minutes) * 60_000;
let seed = Number(values.seed ?? Date.now() % 1_000_000_000);
for (let rounds = 1; ; rounds += 1, seed += 1) {
  const code = run('npx', ['vitest', 'run', '--config', 'tests/vitest.config.ts', '--reporter=dot', ...files], {
    cwd: root, env: { ...process.env, HALLCLOCK_SEED: String(seed) },
  });
  if (code !== 0) {
    console.error(`failed with HALLCLOCK_SEED=${seed}, round ${rounds}`);
    process.exit(1);
  }
  if (Date.now() > until) {
    console.error(`${rounds} rounds held, seeds ${seed - rounds + 1} to ${seed}`);
    process.exit(0);
  }
}
