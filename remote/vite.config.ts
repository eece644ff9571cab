/** Owns how the phone and the desk are built: two pages that load apart, one folder of assets. */
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

const here = (path: string): string => new URL(path, import.meta.url).pathname;

export default defineConfig({
  root: here('.'),
  base: '/',
  plugins: [react()],
  build: {
    outDir: here('../dist/remote'),
    emptyOutDir: true,
    assetsDir: 'remote-assets',
    rollupOptions: { input: { phone: here('./phone/index.html'), desk: here('./desk/index.html') } },
  },
  server: { proxy: { '/api': 'http://localhost:8080', '/socket.io': { target: 'http://localhost:8080', ws: true } } },
});
