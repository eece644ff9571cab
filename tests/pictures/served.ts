/** Owns the pages of every state of screen, phone and desk, built as for release and served to one browser: pictures and tests look at the same. */
import { chromium, type Browser } from '@playwright/test';
import { build, preview } from 'vite';

const root = new URL('../..', import.meta.url).pathname;

export interface Served {
  /** Of the page; a query follows. */
  readonly url: string;
  readonly close: () => Promise<void>;
}

async function serve(config: string, from: string, file: string): Promise<Served> {
  const outDir = `${root}.cache/built-${file.replace(/\W+/g, '-')}`;
  await build({
    root: from, configFile: `${root}${config}`, logLevel: 'error',
    build: { outDir, emptyOutDir: true, reportCompressedSize: false, rollupOptions: { input: `${from}${file}` } },
  });
  const server = await preview({ root: from, configFile: false, logLevel: 'error', build: { outDir }, preview: { port: 0, host: '127.0.0.1' } });
  return { url: `${server.resolvedUrls?.local[0] ?? ''}${file}`, close: () => server.close() };
}

export const serveScreenPage = (): Promise<Served> => serve('display/vite.config.ts', root, 'tests/pictures/screen.html');
/** The samples of phone and desk; what they ask for is answered by remote-answers.ts. */
export const serveSamples = (): Promise<Served> => serve('remote/vite.config.ts', `${root}remote/`, 'samples/index.html');

export const launch = (): Promise<Browser> => chromium.launch({
  executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
});
