/**
 * Owns the studio's emergency facts and the notes for cover teachers over HTTP. Everybody
 * in the studio may read them; writing needs the cookie of a paired browser.
 */
import express, { type Response, Router } from 'express';
import type { z } from 'zod';
import { NOTE_MAX } from '../../shared/limits.ts';
import { emergencySchema } from '../../shared/wire/emergency.ts';
import { coverSchema, type ProblemBody } from '../../shared/wire/http.ts';
import { writers } from '../access/insiders.ts';
import { notKept, notKeptStatus } from '../files/files.ts';
import type { Studio } from '../studio.ts';

const MOST = '8kb';

function problemOf(error: z.ZodError): ProblemBody {
  const issue = error.issues[0];
  return { error: `This cannot be kept: ${issue?.message ?? 'not understood'}.`, path: issue?.path.map(String).join('.') ?? '' };
}

export function peopleRoutes(studio: Studio): Router {
  const router = Router();
  const paired = writers(studio);
  const no = (response: Response, status: number, body: ProblemBody) => { response.status(status).json(body); };

  router.get('/emergency', (_request, response) => { response.json(studio.emergency.now()); });
  router.put('/emergency', paired, express.json({ limit: MOST }), async (request, response) => {
    const parsed = emergencySchema.safeParse(request.body);
    if (!parsed.success) return no(response, 400, problemOf(parsed.error));
    if (!(await studio.emergency.keep(parsed.data))) return no(response, notKeptStatus(studio.files), { error: notKept(studio.files) });
    studio.told();
    response.json(parsed.data);
  });

  router.get('/plans/:id/cover', (request, response) => {
    response.json({ note: studio.coverNotes.now()[request.params.id] ?? '' } satisfies z.infer<typeof coverSchema>);
  });
  router.put('/plans/:id/cover', paired, express.json({ limit: MOST }), async (request, response) => {
    const parsed = coverSchema.safeParse(request.body);
    const id = String(request.params.id);
    if (!parsed.success) return no(response, 400, { error: `A note is at most ${NOTE_MAX} letters.`, path: 'note' });
    if (!(await studio.library.plan(id))) return no(response, 404, { error: 'The studio has no such plan.' });
    const { note } = parsed.data;
    if (!(await studio.coverNotes.change(({ [id]: _before, ...rest }) => (note === '' ? rest : { ...rest, [id]: note })))) return no(response, notKeptStatus(studio.files), { error: notKept(studio.files) });
    response.json({ note });
  });
  return router;
}
