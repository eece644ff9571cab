/** Owns telling the desk how this studio stands with the chain's server, and how many houses report here; and settling there what both changed. */
import express, { Router } from 'express';
import { HOUSE_MESSAGE_MOST_BYTES } from '../../shared/limits.ts';
import { type ChainStands, chainStandsSchema, conflictsHereSchema, settleSchema } from '../../shared/wire/house.ts';
import type { ProblemBody } from '../../shared/wire/http.ts';
import { writers } from '../access/insiders.ts';
import type { Studio } from '../studio.ts';
import { Hindered } from './hindered.ts';
import type { Upward } from './upward.ts';

/** Under /api/chain. @param houses how many report to this server */
export function chainRoutes(upward: Upward | null, houses: number, studio: Studio): Router {
  const router = Router();
  const { timeZone } = studio.settings.studio;
  router.get('/', async (_request, response) => {
    response.json(chainStandsSchema.parse({ timeZone, upward: upward && await upward.stands(), houses } satisfies ChainStands));
  });
  router.get('/conflicts', async (_request, response) => {
    response.json(conflictsHereSchema.parse(upward ? await upward.down.conflicts() : { plans: [], lines: [] }));
  });
  router.post('/settle', writers(studio), express.json({ limit: HOUSE_MESSAGE_MOST_BYTES }), async (request, response) => {
    const sent = settleSchema.safeParse(request.body);
    if (!sent.success) return void response.status(400).json({ error: `This settles nothing; at ${sent.error.issues[0]?.path.map(String).join('.') || 'the top'}. Load the page again, then choose.` } satisfies ProblemBody);
    if (!upward) return void response.status(404).json({ error: 'This studio takes nothing from a chain.' } satisfies ProblemBody);
    try {
      const left = await upward.down.settle(sent.data);
      if (left !== null) return void response.status(409).json({ error: left } satisfies ProblemBody);
      response.json(conflictsHereSchema.parse(await upward.down.conflicts()));
    } catch (error) {
      if (!(error instanceof Hindered)) throw error;
      response.status(507).json({ error: error.message } satisfies ProblemBody);
    }
  });
  return router;
}
