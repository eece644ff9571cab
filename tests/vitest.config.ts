/** Owns how unit, property and server tests run. Browser tests are Playwright's. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['shared/**/*.test.{ts,tsx}', 'server/**/*.test.ts', 'display/**/*.test.{ts,tsx}', 'remote/**/*.test.{ts,tsx}', 'tests/**/*.test.{ts,tsx}'],
    exclude: ['**/node_modules/**', 'tests/browser/**'],
    setupFiles: ['tests/seed.ts'],
    // A slow machine takes its time.
    testTimeout: 240_000,
    hookTimeout: 120_000,
  },
});
