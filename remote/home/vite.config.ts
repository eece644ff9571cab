/** Owns how the page that is taken home is built: one script and one style with everything in them; the server puts them into a page. */
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { forOlderScreens } from '../../shared/ui/older/css.ts';
import { targets } from '../../shared/ui/older/targets.ts';

const here = (path: string): string => new URL(path, import.meta.url).pathname;

/** The typefaces that a screen has for languages of other scripts. */
const OTHER_SCRIPTS = /Noto Sans/;

/** Whatever was left beside the style, as some fonts ask for, is put into it too: a page at home has nothing beside it. */
const nothingBeside: Plugin = {
  name: 'nothing-beside',
  enforce: 'post',
  generateBundle(_options, bundle) {
    const assets = Object.values(bundle).flatMap((file) => (file.type === 'asset' ? [file] : []));
    for (const file of assets.filter((f) => !f.fileName.endsWith('.css'))) {
      const address = `data:font/${file.fileName.split('.').at(-1)};base64,${Buffer.from(file.source).toString('base64')}`;
      for (const style of assets) if (style.fileName.endsWith('.css')) style.source = String(style.source).replaceAll(`./${file.fileName}`, address);
      delete bundle[file.fileName];
    }
    // Sheets that bring the type with them bring it once. Scripts beside the Latin one are left to the device, so that a mail takes the file.
    const seen = new Set<string>();
    for (const style of assets.filter((f) => f.fileName.endsWith('.css'))) {
      style.source = String(style.source).replace(/@font-face\s*\{[^}]*\}/g, (face) => { const out = seen.has(face) || OTHER_SCRIPTS.test(face); seen.add(face); return out ? '' : face; });
    }
  },
};

export default defineConfig({
  root: here('.'),
  base: './',
  publicDir: false,
  plugins: [react(), nothingBeside],
  css: { postcss: { plugins: [forOlderScreens()] } },
  build: {
    target: targets,
    chunkSizeWarningLimit: 3_000,
    outDir: here('../../dist/home'),
    emptyOutDir: true,
    modulePreload: false,
    cssCodeSplit: false,
    assetsInlineLimit: () => true,
    rollupOptions: {
      input: here('./main.tsx'),
      output: { format: 'iife', entryFileNames: 'home.js', assetFileNames: (asset) => (asset.names.some((n) => n.endsWith('.css')) ? 'home.css' : '[name][extname]') },
      // The helper of parts that load apart asks where it is; here nothing loads apart.
      onLog: (level, log, tell) => { if (log.code !== 'EMPTY_IMPORT_META') tell(level, log); },
    },
  },
});
