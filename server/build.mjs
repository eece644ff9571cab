/**
 * Owns making dist: the screen, the phone and the desk, and the server as one file
 * beside its worker. What must stay out of the bundle is a native module or finds
 * its own files.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('..', import.meta.url));
const at = (path) => join(root, path);

/** A name for what was built: the same sources give the same one. */
function nameOfBuild() {
  const hash = createHash('sha256');
  const walk = (folder) => {
    for (const entry of readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1))) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else hash.update(entry.name).update(readFileSync(path));
    }
  };
  walk(at('dist'));
  return hash.digest('hex').slice(0, 12);
}

async function pages() {
  for (const app of ['display', 'remote', 'remote/home']) {
    const configFile = at(`${app}/vite.config.ts`);
    if (existsSync(configFile)) await build({ configFile, logLevel: 'warn' });
  }
}

/** Each script and sheet once more, compressed: made here once, not at each request. */
function compressed(folder) {
  for (const file of readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((f) => /\.(js|css)$/.test(f))) {
    const bytes = readFileSync(join(folder, file));
    writeFileSync(join(folder, `${file}.gz`), gzipSync(bytes, { level: 9 }));
    writeFileSync(join(folder, `${file}.br`), brotliCompressSync(bytes));
  }
}

async function server() {
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    ssr: { noExternal: true, external: ['better-sqlite3', 'tsx'] },
    build: {
      ssr: true,
      target: 'node20',
      outDir: at('dist/server'),
      emptyOutDir: true,
      minify: false,
      rollupOptions: {
        input: { main: at('server/main.ts'), worker: at('server/store/worker.ts'), review: at('server/review/worker.ts'), demo: at('server/demo.ts') },
        external: ['better-sqlite3', 'bufferutil', 'utf-8-validate', 'supports-color', /^node:/],
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name].js' },
      },
    },
  });
}

mkdirSync(at('dist'), { recursive: true });
rmSync(at('dist/build.json'), { force: true });
await Promise.all([pages(), server()]);
for (const app of ['display', 'remote']) compressed(at(`dist/${app}`));
writeFileSync(at('dist/build.json'), `${JSON.stringify({ build: nameOfBuild(), at: Date.now() })}\n`);
