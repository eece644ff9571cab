/**
 * Owns `npm test`: installs what is missing (a Chromium too, where the system or
 * its package manager has one), then types, lint, tests and browser tests.
 */
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { install, root, run } from '../server/install.mjs';
import { chromium } from './chromium.mjs';

const bin = (name) => join(root, 'node_modules/.bin', name);
const failed = [];
const step = (name, command, args, env = {}) => {
  console.error(`\n— ${name}`);
  if (run(command, args, { env: { ...process.env, ...env } }) !== 0) failed.push(name);
};
const read = (file) => {
  try {
    return JSON.parse(readFileSync(join(root, file), 'utf8'));
  } catch {
    return null;
  }
};

install();
rmSync(join(root, '.cache/vitest.json'), { force: true });
rmSync(join(root, '.cache/playwright.json'), { force: true });

step('types', bin('tsc'), ['-b']);
step('lint', bin('biome'), ['check', '--config-path=.biome.json', '--error-on-warnings', '.']);
step('unit, property and server tests', bin('vitest'), [
  'run', '--config', 'tests/vitest.config.ts', '--reporter=default', '--reporter=json', '--outputFile.json=.cache/vitest.json',
]);
step('build', process.execPath, ['server/build.mjs']);
const browser = chromium();
if (browser) {
  step('browser tests', bin('playwright'), ['test', '--config', 'tests/browser/playwright.config.ts'], { HALLCLOCK_CHROMIUM: browser });
} else {
  failed.push('browser tests (no Chromium: install the package "chromium", or set HALLCLOCK_CHROMIUM to its path)');
}

const unit = read('.cache/vitest.json');
const pages = read('.cache/playwright.json');
const passed = (unit?.numPassedTests ?? 0) + (pages?.stats.expected ?? 0) + (pages?.stats.flaky ?? 0);
const broken = (unit?.numFailedTests ?? 0) + (pages?.stats.unexpected ?? 0);
/** A browser on a busy machine may need a second try: these are named, never hidden. */
const specs = (suite) => [...(suite.specs ?? []), ...(suite.suites ?? []).flatMap(specs)];
const second = (pages?.suites ?? []).flatMap(specs).filter((spec) => spec.tests.some((t) => t.status === 'flaky')).map((spec) => spec.title);
const skipped = (unit?.numPendingTests ?? 0) + (pages?.stats.skipped ?? 0);
for (const name of failed) console.error(`failed: ${name}`);
for (const title of second) process.stdout.write(`held at the second try only: ${title}\n`);
process.stdout.write(`\n${passed} passed, ${broken} failed, ${skipped} skipped\n`);
process.exit(failed.length === 0 ? 0 : 1);
