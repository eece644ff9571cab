/** Owns how the screen is built: one page, its files under /screen-assets. */
import { readdirSync, readFileSync } from 'node:fs';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { forOlderScreens } from '../shared/ui/older/css.ts';
import { targets } from '../shared/ui/older/targets.ts';
import { withoutSchemas } from './without-schemas.ts';

const here = (path: string): string => new URL(path, import.meta.url).pathname;

/** The text of every style sheet that these pages may have. */
const sheets = ['./src', '../shared/ui'].flatMap((folder) => readdirSync(here(folder), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.css')).map((file) => readFileSync(`${here(folder)}/${file}`, 'utf8')));

export default defineConfig({
  root: here('.'),
  base: '/',
  plugins: [react(), withoutSchemas()],
  css: { postcss: { plugins: [forOlderScreens(sheets)] } },
  build: {
    target: targets,
    // One bundle for a screen in the same building; it is asked for once.
    chunkSizeWarningLimit: 900, outDir: here('../dist/display'), emptyOutDir: true, assetsDir: 'screen-assets' },
  server: { proxy: { '/api': 'http://localhost:8080', '/socket.io': { target: 'http://localhost:8080', ws: true } } },
});
