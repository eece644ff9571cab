/** Owns how the phone, the desk and the movements are built: three pages that load apart, one folder of assets. */
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
    chunkSizeWarningLimit: 900,
    outDir: here('../dist/remote'),
    emptyOutDir: true,
    assetsDir: 'remote-assets',
    rollupOptions: { input: { phone: here('./phone/index.html'), desk: here('./desk/index.html'), movements: here('./movements/index.html'), answer: here('./answer/index.html') } },
  },
  server: { proxy: { '/api': 'http://localhost:8080', '/pictures': 'http://localhost:8080', '/socket.io': { target: 'http://localhost:8080', ws: true } } },
});
