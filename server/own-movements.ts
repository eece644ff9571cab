/**
 * Owns a studio's own movements over HTTP: keeping one that a form sends, its
 * picture, and handing pictures out. Written whole or not at all, one after the other.
 * Leaves alone where files are (server/files), how they are read (library.ts) and what
 * a picture is (pictures/look.ts).
 */
import { basename, dirname } from 'node:path';
import express, { type NextFunction, type Request, type Response, Router } from 'express';
import { CLIP_MOST_BYTES, FILE_MOST_BYTES, OWN_MOVEMENTS_MAX } from '../shared/limits.ts';
import { type Movement, movementSchema } from '../shared/movement/movement.ts';
import { type Picture, pictureTypeOf, pictureTypes } from '../shared/movement/picture.ts';
import type { ProblemBody } from '../shared/wire/http.ts';
import { writers } from './access/insiders.ts';
import { type Files, notKept, notKeptStatus } from './files/files.ts';
import { look, tooLarge } from './pictures/look.ts';
import type { Studio } from './studio.ts';

type Answer = { readonly movement: Movement } | { readonly status: number; readonly problem: ProblemBody };
const no = (status: number, error: string, path?: string): Answer => ({ status, problem: path === undefined ? { error } : { error, path } });

const MOVEMENTS = 'movements';
const MEDIA = 'media';
const isFile = (id: string) => (name: string): boolean => name === `${id}.json`;
const saved = (m: Movement): string => `${JSON.stringify(m, null, 2)}\n`;

export function openOwnMovements(studio: Pick<Studio, 'library' | 'files'>) {
  const own = async (files: Files): Promise<string[]> => (await files.list(MOVEMENTS)).map((f) => f.name).filter((name) => name.endsWith('.json'));

  async function add(at: Files, body: unknown): Promise<Answer> {
    const parsed = movementSchema.safeParse(body);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const path = issue?.path.map(String).join('.') ?? '';
      return no(400, `This cannot be kept; at ${path || 'the top'}: ${issue?.message ?? 'not understood'}.`, path);
    }
    const movement = parsed.data;
    if (movement.picture) return no(400, 'The picture is sent by itself, after the words.', 'picture');
    const [{ movements: known }, files] = await Promise.all([studio.library.movements(), own(at)]);
    if (files.some(isFile(movement.id)) || known.some((m) => m.id === movement.id || m.name === movement.name)) {
      return no(409, `There is a movement of that name already. Give this one another name than "${movement.name}".`, 'name');
    }
    if (files.length >= OWN_MOVEMENTS_MAX) {
      return no(409, `The studio has ${OWN_MOVEMENTS_MAX} movements of its own, which is the most. Take some out of its folder first.`);
    }
    const links = [movement.option, movement.build, ...Object.values(movement.forNeeds)].flatMap((a) => a?.movement ?? []);
    const lost = links.find((id) => !known.some((m) => m.id === id));
    if (lost !== undefined) return no(400, `There is no movement "${lost}" to lead to. Choose another, or leave only the words.`);
    await at.write(MOVEMENTS, `${movement.id}.json`, saved(movement));
    return { movement };
  }

  async function show(at: Files, id: string, bytes: Buffer): Promise<Answer> {
    const looked = look(bytes);
    if ('refused' in looked) return no(looked.refused === tooLarge ? 413 : 415, looked.refused, 'picture');
    // The name is one of those in the folder, never one that was sent.
    const file = (await own(at)).find(isFile(id));
    const parsed = file === undefined ? null : movementSchema.safeParse(JSON.parse((await at.read(MOVEMENTS, file) ?? '').toString()));
    if (!parsed) return no(404, 'The studio has no movement of its own of that name. Only its own can have a picture.');
    if (!parsed.success) return no(422, `${file} cannot be used, so it can have no picture. Mend it first.`);
    const before = parsed.data.picture?.file;
    const picture: Picture = { kind: pictureTypes[looked.type].kind, file: `${parsed.data.id}.${looked.type}` };
    const movement: Movement = { ...parsed.data, picture };
    await at.write(MEDIA, picture.file, bytes);
    await at.write(MOVEMENTS, `${movement.id}.json`, saved(movement));
    if (before !== undefined && before !== picture.file) await at.remove(MEDIA, before);
    return { movement };
  }

  /** One after the other, so that two that come at once do not both find the name free. */
  const alone = (work: (files: Files) => Promise<Answer>): Promise<Answer> => studio.files.alone(work).catch(() => no(notKeptStatus(studio.files), notKept(studio.files)));
  return { add: (body: unknown) => alone((at) => add(at, body)), show: (id: string, bytes: Buffer) => alone((at) => show(at, id, bytes)) };
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
  router.get('/:file', async (request, response, next) => {
    const { file } = request.params;
    const type = pictureTypeOf(file);
    // Only a name that stands in the folder is ever joined to it.
    const at = type && (await studio.files.list(MEDIA)).some((f) => f.name === file) ? await studio.files.place(MEDIA, file) : null;
    if (!type || at === null) return next();
    response.set({
      'Content-Type': pictureTypes[type].mime,
      'Content-Security-Policy': "default-src 'none'; sandbox",
      'X-Content-Type-Options': 'nosniff',
      'Cache-Control': 'no-cache',
    }).sendFile(basename(at), { root: dirname(at), dotfiles: 'deny', cacheControl: false }, (error) => { if (error && !response.headersSent) next(); });
  });
  return router;
}
