/** Owns the description of how a studio's own server reports to the chain's, and of the desk's page of houses. */
import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { askHaveSchema, askPlansSchema, chainStandsSchema, conflictsHereSchema, haveSchema, houseKeyBodySchema, housesSchema, logTakenSchema, plansGivenSchema, sendLogSchema, settleSchema } from '../../shared/wire/house.ts';
import { putTimetableSchema, timetableBodySchema } from '../../shared/wire/plans.ts';
import { body, full, gone, no, route, withPassword, within, wrong } from './parts.ts';

/** Of every server. */
export const chainPaths: ZodOpenApiPathsObject = {
  '/api/chain': { get: within('chain', 'How this studio stands with the chain\'s server, and how many houses report here', chainStandsSchema) },
  '/api/chain/conflicts': { get: within('chainConflicts', 'What the chain and this studio changed otherwise, each as both have it', conflictsHereSchema) },
  '/api/chain/settle': { post: within('chainSettle', 'Choose whose stays; the other is kept among the former versions. Answers with what is left', conflictsHereSchema, {
    ...body(settleSchema), responses: { ...wrong, '404': no('This studio takes nothing from a chain.'), '409': no('It is no longer as it was shown; nothing was changed.'), '413': no('It is larger than any plan.'), ...full },
  }) },
};

const withKey = [{ house: [] }];
const away = { '503': no('The database does not answer.') };
const responses = {
  ...wrong, '401': no('The key is not one of a house that reports here.'), '409': no('The two servers speak different forms; the sentence says which is older.'), '413': no('It is larger than any message of a studio\'s server.'), ...away,
};
const unheard = { '409': no('The house was not heard yet, so its rooms are not known; or somebody changed the timetable meanwhile. Nothing was overwritten.') };
const noPassword = { '403': no('This browser did not give the desk\'s password.') };

/** Of a server to which houses report. */
export const housePaths: ZodOpenApiPathsObject = {
  '/api/house/have': { post: route('have', 'Which classes of the house are here, up to which event', haveSchema, { security: withKey, ...body(askHaveSchema), responses }) },
  '/api/house/log': { post: route('log', 'The next commands of some classes; what is here already is left out', logTakenSchema, { security: withKey, ...body(sendLogSchema), responses: { ...responses, ...full } }) },
  '/api/house/plans': { post: route('housePlans', 'What the chain plans for the house: all of it by name and version, and in full what the house has not', plansGivenSchema, { security: withKey, ...body(askPlansSchema), responses }) },
  '/api/desk/houses': { get: route('houses', 'Which houses report here, and since when each was last heard', housesSchema, { security: withPassword, responses: { ...noPassword, ...away } }) },
  '/api/desk/houses/{id}/key': { post: route('houseKey', 'Make a key for a house, shown once; the one before holds no longer', houseKeyBodySchema, { security: withPassword, requestParams: { path: z.object({ id: z.string() }) }, responses: { ...noPassword, ...gone, ...full } }) },
  '/api/desk/houses/{id}/timetable': {
    get: route('houseTimetable', 'The timetable that is made here for a house', timetableBodySchema, { security: withPassword, requestParams: { path: z.object({ id: z.string() }) }, responses: { ...noPassword, ...gone, ...unheard, '422': no('The file of the timetable cannot be used.'), ...away } }),
    put: route('keepHouseTimetable', 'Keep it, with the revision that it began with; the house takes it when it asks next', timetableBodySchema, { security: withPassword, requestParams: { path: z.object({ id: z.string() }) }, ...body(putTimetableSchema), responses: { ...wrong, ...noPassword, ...gone, ...unheard, '422': no('The file of the timetable cannot be used.'), ...away } }),
  },
};
