/** Owns how `npm run browsers` runs: one browser after another, each with the time that an old or slow one takes. */
import { defineConfig } from '@playwright/test';

export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  workers: 1,
  timeout: 300_000,
  expect: { timeout: 30_000 },
  outputDir: '../../.cache/playwright-browsers',
  reporter: [['list']],
});
