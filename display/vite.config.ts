/** Owns how the screen is built: one page, its files under /screen-assets. */
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { forOlderScreens } from '../shared/ui/older/css.ts';
import { targets } from '../shared/ui/older/targets.ts';

const here = (path: string): string => new URL(path, import.meta.url).pathname;

export default defineConfig({
  root: here('.'),
  base: '/',
  plugins: [react()],
  css: { postcss: { plugins: [forOlderScreens()] } },
  build: {
    target: targets,
    // One bundle for a screen in the same building; it is asked for once.
    chunkSizeWarningLimit: 900, outDir: here('../dist/display'), emptyOutDir: true, assetsDir: 'screen-assets' },
  server: { proxy: { '/api': 'http://localhost:8080', '/socket.io': { target: 'http://localhost:8080', ws: true } } },
});
