/** Owns how the phone, the desk and the movements are built: three pages that load apart, one folder of assets. */
import { readdirSync, readFileSync } from 'node:fs';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { forOlderScreens } from '../shared/ui/older/css.ts';
import { targets } from '../shared/ui/older/targets.ts';

const here = (path: string): string => new URL(path, import.meta.url).pathname;

/** The text of every style sheet that these pages may have. */
const sheets = ['./common', './phone', './answer', './movements', './desk', '../shared/ui'].flatMap((folder) => readdirSync(here(folder), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.css')).map((file) => readFileSync(`${here(folder)}/${file}`, 'utf8')));

export default defineConfig({
  root: here('.'),
  base: '/',
  plugins: [react()],
  css: { postcss: { plugins: [forOlderScreens(sheets)] } },
  build: {
    target: targets,
    // One bundle for a screen in the same building; it is asked for once.
    chunkSizeWarningLimit: 900,
    outDir: here('../dist/remote'),
    emptyOutDir: true,
    assetsDir: 'remote-assets',
    rollupOptions: { input: { phone: here('./phone/index.html'), desk: here('./desk/index.html'), movements: here('./movements/index.html'), answer: here('./answer/index.html') } },
  },
  server: { proxy: { '/api': 'http://localhost:8080', '/pictures': 'http://localhost:8080', '/socket.io': { target: 'http://localhost:8080', ws: true } } },
});
