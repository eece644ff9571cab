/** Owns telling the desk how this studio stands with the chain's server, and how many houses report here. */
import { Router } from 'express';
import { type ChainStands, chainStandsSchema } from '../../shared/wire/house.ts';
import type { Upward } from './upward.ts';

/** GET /api/chain. @param houses how many report to this server */
export function chainRoutes(upward: Upward | null, houses: number, timeZone: string): Router {
  const router = Router();
  router.get('/', async (_request, response) => {
    response.json(chainStandsSchema.parse({ timeZone, upward: upward && await upward.stands(), houses } satisfies ChainStands));
  });
  return router;
}
