/** Owns which page belongs to which address. The pages themselves are built elsewhere (dist), or made by Vite in development. */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Express } from 'express';
import expressStaticGzip from 'express-static-gzip';

/** The folder with package.json in it: above the sources as well as above the bundle. */
export function rootFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json')) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

export const pages = [
  { paths: ['/', '/screen', '/screen/:room'], app: 'display', file: 'index.html' },
  { paths: ['/phone'], app: 'remote', file: 'phone/index.html' },
  { paths: ['/movements', '/movements/new'], app: 'remote', file: 'movements/index.html' },
  { paths: ['/answer/:class'], app: 'remote', file: 'answer/index.html' },
  { paths: ['/desk', '/desk/*rest'], app: 'remote', file: 'desk/index.html' },
] as const;

/** A year: the names of built files in an assets folder change with what is in them. */
const cacheOf = (file: string): string => (/[\\/][\w-]*assets[\\/]/.test(file) ? 'public, max-age=31536000, immutable' : 'no-cache');

/** Serves the built pages from dist/display and dist/remote. */
export function builtPages(app: Express, root: string): void {
  for (const name of ['display', 'remote']) {
    // Beside each script and sheet the build has put it compressed: a screen on bad Wi-Fi waits a third of the time.
    app.use(expressStaticGzip(join(root, 'dist', name), {
      enableBrotli: true, orderPreference: ['br'], index: false,
      serveStatic: { redirect: false, cacheControl: false, setHeaders: (response, file) => { response.setHeader('Cache-Control', cacheOf(file)); } },
    }));
  }
  for (const page of pages) {
    app.get([...page.paths], (_request, response) => {
      response.set('Cache-Control', 'no-cache').sendFile(page.file, { root: join(root, 'dist', page.app) }, (error) => {
        if (error && !response.headersSent) {
          response.status(503).type('text').send('This page is not built yet. Run "npm run build" beside the server, then reload.');
        }
      });
    });
  }
}
