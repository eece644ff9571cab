/**
 * Owns planning under /api: keeping plans, their versions, the bin, who else edits, the
 * file of a plan and its schema. Reading is for everybody in the studio; writing needs the
 * cookie of a paired browser. Leaves alone how plans are kept (keep.ts).
 */
import express, { type NextFunction, type Request, type Response, Router } from 'express';
import { z } from 'zod';
import { EDITING_MS, FILE_MOST_BYTES } from '../../shared/limits.ts';
import { compile } from '../../shared/plan/compile.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { refusalOf } from '../../shared/plan/read-file.ts';
import { totals } from '../../shared/plan/totals.ts';
import { between, type ServerAt } from '../../shared/time/units.ts';
import { binnedSchema, binSchema, editingSchema, editorsSchema, keptSchema, putPlanSchema, versionsSchema } from '../../shared/wire/plans.ts';
import type { Studio } from '../studio.ts';
import { takesReports } from '../houses/houses.ts';
import { writers } from '../access/insiders.ts';
import { answer, idIn, sorry } from './door.ts';
import { homeRoutes } from './home.ts';
import { openPlans } from './keep.ts';
import { openApi } from './open-api.ts';
import { timetableRoutes } from './timetable-http.ts';

export const PLAN_SCHEMA_AT = '/api/schemas/plan-1.json';
const planJsonSchema = {
  $id: PLAN_SCHEMA_AT, title: 'A class plan of Hallclock, format 1',
  ...z.toJSONSchema(planSchema, { io: 'input' }),
};

/** Editors by plan, as long as they are heard of; in memory only. */
function whoEdits(now: () => ServerAt) {
  const seen = new Map<string, Map<string, ServerAt>>();
  return (plan: string, editor: string): number => {
    const here = seen.get(plan) ?? new Map<string, ServerAt>();
    here.set(editor, now());
    for (const [who, at] of here) if (between(at, now()) > EDITING_MS) here.delete(who);
    seen.set(plan, here);
    if (seen.size > 1_000) seen.clear();
    return Math.max(0, here.size - 1);
  };
}

export function planRoutes(studio: Studio): Router {
  const router = Router();
  const plans = openPlans(studio.files, studio.library, studio.clock.now);
  const editors = whoEdits(studio.clock.now);
  const mayWrite = writers(studio);
  const body = express.json({ limit: FILE_MOST_BYTES });

  router.post('/plans', mayWrite, body, async (request, response) => {
    const parsed = planSchema.safeParse(request.body);
    if (!parsed.success) return sorry(response, 400, refusalOf(parsed.error).error, refusalOf(parsed.error).path);
    answer(response, 201, keptSchema, await plans.add(parsed.data));
  });
  router.get('/plans/:id/kept', async (request, response) => answer(response, 200, keptSchema, await plans.kept(idIn(request))));
  router.put('/plans/:id', mayWrite, body, async (request, response) => {
    const parsed = putPlanSchema.safeParse(request.body);
    if (!parsed.success) {
      const inPlan = planSchema.safeParse((request.body as { plan?: unknown } | undefined)?.plan);
      const { error, path } = inPlan.success ? { error: 'This cannot be kept: "base" is the revision that the server last answered for this plan. Read the plan again, then send your change.', path: 'base' } : refusalOf(inPlan.error);
      return sorry(response, 400, error, path);
    }
    answer(response, 200, keptSchema, await plans.put(idIn(request), parsed.data));
  });
  router.delete('/plans/:id', mayWrite, async (request, response) => answer(response, 200, binnedSchema, await plans.away(idIn(request))));

  router.get('/plans/:id/versions', async (request, response) => {
    const { movements } = await studio.library.movements();
    const facts = Object.fromEntries(movements.map((m) => [m.id, factsOf(m)]));
    const versions = (await plans.versions(idIn(request))).map(({ at, revision, plan }) => ({ at, revision, name: plan.name, lengthMs: totals(compile(plan, facts).intervals).lengthMs }));
    response.json(versionsSchema.parse({ versions }));
  });
  router.get('/plans/:id/versions/:revision', async (request, response) => {
    const plan = await plans.version(idIn(request), String(request.params.revision));
    if (!plan) return sorry(response, 404, 'There is no such version of this plan. The oldest ones are not kept for ever.');
    response.json(plan);
  });
  router.post('/plans/:id/editing', mayWrite, body, async (request, response) => {
    const parsed = editingSchema.safeParse(request.body);
    if (!parsed.success) return sorry(response, 400, '"editor" is a UUID that the page made for itself.', 'editor');
    response.json(editorsSchema.parse({ others: editors(idIn(request), parsed.data.editor), revision: await plans.revision(idIn(request)) }));
  });
  router.get('/plans/:id/file', async (request, response) => {
    const found = await studio.library.plan(idIn(request));
    if (!found || 'broken' in found) return sorry(response, 404, 'The studio has no such plan.');
    response.attachment(`${found.plan.id}.json`).type('application/json').send(`${JSON.stringify({ $schema: PLAN_SCHEMA_AT, ...found.plan }, null, 2)}\n`);
  });

  router.get('/bin', async (_request, response) => { response.json(binSchema.parse({ plans: await plans.binned() })); });
  router.post('/bin/:file/back', mayWrite, async (request, response) => answer(response, 200, keptSchema, await plans.back(String(request.params.file))));

  router.get('/schemas/plan-1.json', (_request, response) => { response.type('application/schema+json').send(JSON.stringify(planJsonSchema, null, 2)); });
  router.get('/openapi.json', (_request, response) => { response.json(openApi(studio.version, { view: studio.settings.houses.length > 0, reports: takesReports(studio.settings) })); });
  router.use(timetableRoutes(studio));
  router.use(homeRoutes(studio));

  router.use((error: Error & { status?: number; type?: string }, _request: Request, response: Response, next: NextFunction) => {
    if (response.headersSent) return next(error);
    if (error.status === 413) return sorry(response, 413, `A plan has at most ${FILE_MOST_BYTES} bytes. Shorten its notes, or make two of it.`);
    if (error.type === 'entity.parse.failed') return sorry(response, 400, 'That is no JSON; nothing was kept. Look for a missing comma or quote.');
    next(error);
  });
  return router;
}
