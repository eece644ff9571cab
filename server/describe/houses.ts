/** Owns the description of how a studio's own server reports to the chain's, and of the desk's page of houses. */
import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { askHaveSchema, chainStandsSchema, haveSchema, houseKeyBodySchema, housesSchema, logTakenSchema, sendLogSchema } from '../../shared/wire/house.ts';
import { body, full, gone, no, route, withPassword, within, wrong } from './parts.ts';

/** Of every server. */
export const chainPaths: ZodOpenApiPathsObject = {
  '/api/chain': { get: within('chain', 'How this studio stands with the chain\'s server, and how many houses report here', chainStandsSchema) },
};

const withKey = [{ house: [] }];
const away = { '503': no('The database does not answer.') };
const responses = {
  ...wrong, '401': no('The key is not one of a house that reports here.'), '409': no('The two servers speak different forms; the sentence says which is older.'), '413': no('It is larger than any message of a studio\'s server.'), ...away,
};
const noPassword = { '403': no('This browser did not give the desk\'s password.') };

/** Of a server to which houses report. */
export const housePaths: ZodOpenApiPathsObject = {
  '/api/house/have': { post: route('have', 'Which classes of the house are here, up to which event', haveSchema, { security: withKey, ...body(askHaveSchema), responses }) },
  '/api/house/log': { post: route('log', 'The next commands of some classes; what is here already is left out', logTakenSchema, { security: withKey, ...body(sendLogSchema), responses: { ...responses, ...full } }) },
  '/api/desk/houses': { get: route('houses', 'Which houses report here, and since when each was last heard', housesSchema, { security: withPassword, responses: { ...noPassword, ...away } }) },
  '/api/desk/houses/{id}/key': { post: route('houseKey', 'Make a key for a house, shown once; the one before holds no longer', houseKeyBodySchema, { security: withPassword, requestParams: { path: z.object({ id: z.string() }) }, responses: { ...noPassword, ...gone, ...full } }) },
};
