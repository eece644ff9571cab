/**
 * Owns a studio's own movements over HTTP: keeping one that a form sends, its
 * picture, and handing pictures out. Files of the data folder, written whole or not
 * at all, one after the other. Leaves alone how they are read (library.ts) and what
 * a picture is (pictures/look.ts).
 */
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import express, { type NextFunction, type Request, type Response, Router } from 'express';
import { CLIP_MOST_BYTES, FILE_MOST_BYTES, OWN_MOVEMENTS_MAX } from '../shared/limits.ts';
import { type Movement, movementSchema } from '../shared/movement/movement.ts';
import { type Picture, pictureTypeOf, pictureTypes } from '../shared/movement/picture.ts';
import type { ProblemBody } from '../shared/wire/http.ts';
import { writers } from './access/insiders.ts';
import { look, tooLarge } from './pictures/look.ts';
import type { Studio } from './studio.ts';

type Answer = { readonly movement: Movement } | { readonly status: number; readonly problem: ProblemBody };
const no = (status: number, error: string, path?: string): Answer => ({ status, problem: path === undefined ? { error } : { error, path } });

const notKept = 'The studio could not write this down. Tell the studio that its disk is full or may not be written, then send it again.';

/** All of a file or none of it. @param mode who may read it: everybody on this machine where it is left out */
export async function writeWhole(folder: string, name: string, bytes: string | Buffer, mode = 0o666): Promise<void> {
  await mkdir(folder, { recursive: true });
  const half = join(folder, `.${name}.half`);
  // One that was left half done may be readable by all.
  if (mode !== 0o666) await rm(half, { force: true });
  await writeFile(half, bytes, { mode });
  await rename(half, join(folder, name));
}

const isFile = (id: string) => (name: string): boolean => name === `${id}.json`;
const saved = (m: Movement): string => `${JSON.stringify(m, null, 2)}\n`;

export function openOwnMovements(studio: Pick<Studio, 'library' | 'settings'>) {
  const movements = resolve(studio.settings.data, 'movements');
  const media = resolve(studio.settings.data, 'media');
  const own = async (): Promise<string[]> => (await readdir(movements).catch(() => [])).filter((name) => name.endsWith('.json'));

  async function add(body: unknown): Promise<Answer> {
    const parsed = movementSchema.safeParse(body);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const path = issue?.path.map(String).join('.') ?? '';
      return no(400, `This cannot be kept; at ${path || 'the top'}: ${issue?.message ?? 'not understood'}.`, path);
    }
    const movement = parsed.data;
    if (movement.picture) return no(400, 'The picture is sent by itself, after the words.', 'picture');
    const [{ movements: known }, files] = await Promise.all([studio.library.movements(), own()]);
    if (files.some(isFile(movement.id)) || known.some((m) => m.id === movement.id || m.name === movement.name)) {
      return no(409, `There is a movement of that name already. Give this one another name than "${movement.name}".`, 'name');
    }
    if (files.length >= OWN_MOVEMENTS_MAX) {
      return no(409, `The studio has ${OWN_MOVEMENTS_MAX} movements of its own, which is the most. Take some out of its folder first.`);
    }
    const links = [movement.option, movement.build, ...Object.values(movement.forNeeds)].flatMap((a) => a?.movement ?? []);
    const lost = links.find((id) => !known.some((m) => m.id === id));
    if (lost !== undefined) return no(400, `There is no movement "${lost}" to lead to. Choose another, or leave only the words.`);
    await writeWhole(movements, `${movement.id}.json`, saved(movement));
    return { movement };
  }

  async function show(id: string, bytes: Buffer): Promise<Answer> {
    const looked = look(bytes);
    if ('refused' in looked) return no(looked.refused === tooLarge ? 413 : 415, looked.refused, 'picture');
    // The name is one of those in the folder, never one that was sent.
    const file = (await own()).find(isFile(id));
    const parsed = file === undefined ? null : movementSchema.safeParse(JSON.parse(await readFile(join(movements, file), 'utf8')));
    if (!parsed) return no(404, 'The studio has no movement of its own of that name. Only its own can have a picture.');
    if (!parsed.success) return no(422, `${file} cannot be used, so it can have no picture. Mend it first.`);
    const before = parsed.data.picture?.file;
    const picture: Picture = { kind: pictureTypes[looked.type].kind, file: `${parsed.data.id}.${looked.type}` };
    const movement: Movement = { ...parsed.data, picture };
    await writeWhole(media, picture.file, bytes);
    await writeWhole(movements, `${movement.id}.json`, saved(movement));
    if (before !== undefined && before !== picture.file) await rm(join(media, before), { force: true });
    return { movement };
  }

  let last: Promise<unknown> = Promise.resolve();
  /** One after the other, so that two that come at once do not both find the name free. */
  const inTurn = (work: () => Promise<Answer>): Promise<Answer> => {
    const mine = last.then(work).catch(() => no(507, notKept));
    last = mine;
    return mine;
  };
  return { media, add: (body: unknown) => inTurn(() => add(body)), show: (id: string, bytes: Buffer) => inTurn(() => show(id, bytes)) };
}

/** Under /api/movements. Whoever is not paired is sent away before anything is read. */
export function ownMovements(studio: Studio): Router {
  const router = Router();
  const { add, show } = openOwnMovements(studio);
  const reply = (response: Response, status: number, answer: Answer): void => {
    if ('movement' in answer) response.status(status).json(answer.movement);
    else response.status(answer.status).json(answer.problem);
  };
  const paired = writers(studio);
  router.post('/', paired, express.json({ limit: FILE_MOST_BYTES }), async (request, response) => {
    reply(response, 201, await add(request.body));
  });
  router.put('/:id/picture', paired, express.raw({ type: () => true, limit: CLIP_MOST_BYTES }), async (request, response) => {
    reply(response, 200, await show(String(request.params.id), Buffer.isBuffer(request.body) ? request.body : Buffer.alloc(0)));
  });
  router.use((error: Error & { status?: number }, request: Request, response: Response, next: NextFunction) => {
    if (response.headersSent || error.status !== 413) return next(error);
    response.status(413).json({ error: request.method === 'PUT' ? tooLarge : 'These words are too long to keep. Shorten them.' } satisfies ProblemBody);
  });
  return router;
}

/** Under /pictures: only files of the five kinds, as what they are called, and never as a page or a script. */
export function ownPictures(studio: Studio): Router {
  const router = Router();
  const media = resolve(studio.settings.data, 'media');
  router.get('/:file', (request, response, next) => {
    const { file } = request.params;
    const type = pictureTypeOf(file);
    if (!type) return next();
    response.set({
      'Content-Type': pictureTypes[type].mime,
      'Content-Security-Policy': "default-src 'none'; sandbox",
      'X-Content-Type-Options': 'nosniff',
      'Cache-Control': 'no-cache',
    }).sendFile(file, { root: media, dotfiles: 'deny', cacheControl: false }, (error) => { if (error && !response.headersSent) next(); });
  });
  return router;
}
