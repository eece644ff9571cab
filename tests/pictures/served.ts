/** Owns the page of every state of the screen as it is built for release, served to one browser: pictures and tests look at the same. */
import { chromium, type Browser } from '@playwright/test';
import { build, preview } from 'vite';

const root = new URL('../..', import.meta.url).pathname;
const outDir = `${root}.cache/screen-page`;

export interface Served {
  /** Of the page; a query follows. */
  readonly url: string;
  readonly close: () => Promise<void>;
}

export async function serveScreenPage(): Promise<Served> {
  await build({
    root, configFile: `${root}display/vite.config.ts`, logLevel: 'error',
    build: { outDir, emptyOutDir: true, reportCompressedSize: false, rollupOptions: { input: `${root}tests/pictures/screen.html` } },
  });
  const server = await preview({ root, configFile: false, logLevel: 'error', build: { outDir }, preview: { port: 0, host: '127.0.0.1' } });
  return { url: `${server.resolvedUrls?.local[0] ?? ''}tests/pictures/screen.html`, close: () => server.close() };
}

export const launch = (): Promise<Browser> => chromium.launch({
  executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
});
