/**
 * Owns taking plans home: one page with the editor, the library and the chosen plans in it,
 * put together from what was built for it (dist/home). Leaves alone the page itself (shared/home)
 * and bringing it back, which the desk's page does through the other routes.
 */
import { createHash, randomUUID } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { type RequestHandler, Router } from 'express';
import { HOME_PICTURES_MOST_BYTES } from '../../shared/limits.ts';
import { type HomeFile, type HomePlan, homeFileSchema } from '../../shared/home/file.ts';
import { homePage, inlineScript, type Parts, policyOf } from '../../shared/home/page.ts';
import type { Movement } from '../../shared/movement/movement.ts';
import { pictureTypeOf, pictureTypes } from '../../shared/movement/picture.ts';
import type { Files } from '../files/files.ts';
import { rootFolder } from '../pages.ts';
import type { Studio } from '../studio.ts';
import { sorry } from './door.ts';
import { revisionOf } from './keep.ts';

const hash = (text: string): string => createHash('sha256').update(text).digest('base64');

/** What was built, read again when it was built anew. */
function builtParts(folder: string) {
  let known: { readonly stamp: string; readonly parts: Parts } | null = null;
  return async (): Promise<Parts | null> => {
    try {
      const files = ['home.js', 'home.css'].map((name) => join(folder, name));
      const stamp = (await Promise.all(files.map((f) => stat(f)))).map((s) => `${s.mtimeMs} ${s.size}`).join(', ');
      if (known?.stamp === stamp) return known.parts;
      const [code = '', style = ''] = await Promise.all(files.map((f) => readFile(f, 'utf8')));
      const script = inlineScript(code);
      known = { stamp, parts: { script, style, policy: policyOf(hash(script), hash(style)) } };
      return known.parts;
    } catch {
      return null;
    }
  };
}

/** The studio's own pictures, as many as a file can carry; a movement whose picture stays here is shown by its words. */
async function picturesOf(movements: readonly Movement[], files: Files): Promise<Record<string, string>> {
  const out: Record<string, string> = {};
  let left = HOME_PICTURES_MOST_BYTES;
  for (const { picture } of movements) {
    const type = picture && pictureTypeOf(picture.file);
    if (!picture || !type) continue;
    const bytes = await files.read('media', picture.file).catch(() => null);
    if (!bytes || bytes.length > left) continue;
    left -= bytes.length;
    out[picture.file] = `data:${pictureTypes[type].mime};base64,${bytes.toString('base64')}`;
  }
  return out;
}

/** "at-home-quince-yard-studio-2026-11-25.html": letters that every file system has. */
export function fileName(studio: string, at: number, timeZone: string): string {
  const name = studio.normalize('NFD').toLowerCase().replace(/\p{M}/gu, '').replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 50) || 'studio';
  const day = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(at);
  return `at-home-${name}-${day}.html`;
}

/** GET /api/home.html?plans=one,another: all plans where none is named. */
export function homeRoutes(studio: Studio): Router {
  const router = Router();
  const parts = builtParts(join(rootFolder(), 'dist', 'home'));
  const take: RequestHandler = async (request, response) => {
    const built = await parts();
    if (!built) return sorry(response, 503, 'What is taken home is not built yet. Run "npm run build" beside the server, then try again.');
    const { movements } = await studio.library.movements();
    const named = typeof request.query.plans === 'string' && request.query.plans !== '' ? request.query.plans.split(',') : null;
    const ids = named ?? (await studio.library.plans()).plans.map((p) => p.id);
    const plans: HomePlan[] = [];
    for (const id of new Set(ids)) {
      const found = await studio.library.plan(id);
      if (!found || 'broken' in found) return sorry(response, 404, 'One of these plans is not in the studio any more. Load the page again and choose once more.', 'plans');
      const cover = studio.coverNotes.now()[id];
      plans.push({ now: found.plan, base: found.plan, revision: revisionOf(found.plan), gone: false, saves: [], ...(cover ? { cover } : {}) });
    }
    const { name, timeZone } = studio.settings.studio;
    const takenAt = Math.floor(studio.clock.now());
    const file: HomeFile = homeFileSchema.parse({
      kind: 'hallclock-at-home', format: 1, id: randomUUID(), studio: name, timeZone, takenAt, savedAt: null, plans, movements: [...movements], pictures: await picturesOf(movements, studio.files),
    });
    response.set('Cache-Control', 'no-store').attachment(fileName(name, takenAt, timeZone)).type('html').send(homePage(built, file));
  };
  router.get('/home.html', take);
  return router;
}
