/** Owns how browser tests run: one after another, a Chromium of the system, one more try, which `npm test` names, so that it hides no fault. */
import { defineConfig } from '@playwright/test';

export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  workers: 1,
  retries: 1,
  timeout: 240_000,
  // A slow machine takes its time; what never comes fails all the same.
  expect: { timeout: 30_000 },
  outputDir: '../../.cache/playwright',
  reporter: [['list'], ['json', { outputFile: '../../.cache/playwright.json' }]],
  use: {
    browserName: 'chromium',
    launchOptions: {
      executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run',
      ],
    },
  },
});
