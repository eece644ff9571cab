/** Owns the description of the chain's view, of a server that looks over several houses. */
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { allExportSchema, allLiveSchema, allReviewQuerySchema, allReviewSchema } from '../../shared/wire/all.ts';
import { download, no, route, withPassword, wrong } from './parts.ts';

const responses = { '403': no('This browser did not give the desk\'s password.'), '503': no('The database does not answer, or the logs are still being read for the first time.') };
const shared = { security: withPassword, responses: { ...responses, ...wrong } };
const range = { query: allReviewQuerySchema.pick({ from: true, to: true, house: true }) };

export const allPaths: ZodOpenApiPathsObject = {
  '/api/all/live': { get: route('allLive', 'All rooms of all houses now', allLiveSchema, { ...shared, responses }) },
  '/api/all/review': { get: route('allReview', 'Many classes of all houses together, and by house', allReviewSchema, { ...shared, requestParams: { query: allReviewQuerySchema } }) },
  '/api/all/export.csv': { get: download('allExportTable', 'A range of classes of all houses as a table (RFC 4180), a row each', 'text/csv', { ...shared, requestParams: range }) },
  '/api/all/export.json': { get: route('allExportData', 'A range of classes of all houses as data', allExportSchema, { ...shared, requestParams: range }) },
};
