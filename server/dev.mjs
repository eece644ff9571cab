/** Owns `npm run dev`: the server from its sources, with the pages made by Vite as they are asked for. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { register } from 'tsx/esm/api';
import { createServer } from 'vite';

register();
const { startServer } = await import('./app.ts');
const { pages } = await import('./pages.ts');
const { readSettings } = await import('./settings.ts');

const root = fileURLToPath(new URL('..', import.meta.url));
const say = (sentence) => process.stderr.write(`${sentence}\n`);
const settings = readSettings(process.env);
if ('wrong' in settings) {
  for (const sentence of settings.wrong) say(sentence);
  process.exit(2);
}

/** One Vite for each app, under an address of its own so that they do not answer for each other. */
async function vite(app, index) {
  const configFile = join(root, app, 'vite.config.ts');
  if (!existsSync(configFile)) return null;
  return createServer({
    configFile, base: `/@${app}/`, appType: 'custom',
    server: { middlewareMode: true, hmr: { port: 24_678 + index }, proxy: {} },
  });
}
const makers = { display: await vite('display', 0), remote: await vite('remote', 1) };

const running = await startServer(settings, {
  version: 'development',
  development: true,
  log: { warn: say, info: say },
  lost: (sentence) => {
    say(sentence);
    process.exit(1);
  },
  pages: (app) => {
    for (const maker of Object.values(makers)) if (maker) app.use(maker.middlewares);
    for (const page of pages) {
      app.get([...page.paths], async (_request, response) => {
        const maker = makers[page.app];
        const html = readFileSync(join(root, page.app, page.file), 'utf8');
        const made = maker ? await maker.transformIndexHtml(`/${page.file}`, html) : html;
        // The page is not where its file is, so what it names beside itself is named in full.
        response.type('html').send(made.replaceAll('="./', `="/@${page.app}/${page.file.replace('index.html', '')}`));
      });
    }
  },
}).catch((error) => {
  say(error.message);
  process.exit(2);
});
say(`${running.address.origin}/`);
process.on('SIGINT', () => void running.close().then(() => process.exit(0)));
