/** Owns the description of planning: plans, their versions, the bin, movements, the timetable. */
import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { movementSchema } from '../../shared/movement/movement.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { coverSchema, movementsSchema, plansSchema, showsSchema } from '../../shared/wire/http.ts';
import {
  binnedSchema, binSchema, conflictSchema, dueSchema, editingSchema, editorsSchema, keptSchema, putPlanSchema, putTimetableSchema, timetableBodySchema, versionsSchema,
} from '../../shared/wire/plans.ts';
import { body, download, full, gone, inside, no, ok, often, outside, path, route, within, wrong } from './parts.ts';

const requestParams = { path };
const taken = { '409': no('There is one of that name already.') };
const broken = { '422': no('Its file cannot be used.') };

export const planPaths: ZodOpenApiPathsObject = {
  '/api/plans': {
    get: route('plans', 'All plans in short, and files that cannot be used', plansSchema),
    post: { operationId: 'addPlan', summary: 'Keep a new plan', security: inside, ...body(planSchema), responses: { '201': ok('As it was kept', keptSchema), ...wrong, ...outside, ...taken, '413': no('It is too long.'), ...often, ...full } },
  },
  '/api/plans/{id}': {
    get: route('plan', 'One plan', planSchema, { requestParams, responses: { ...gone, ...broken } }),
    put: within('putPlan', 'Keep a plan again', keptSchema, {
      description: 'With the revision it began with. What somebody else changed meanwhile is brought together with it; where both changed the same, nothing is overwritten.',
      requestParams, ...body(putPlanSchema), responses: { ...wrong, ...gone, '409': ok('Both changed the same', conflictSchema), ...full },
    }),
    delete: within('binPlan', 'Put a plan into the bin', binnedSchema, { requestParams, responses: { ...gone, '409': no('It came with Hallclock and stays.') } }),
  },
  '/api/plans/{id}/kept': { get: route('keptPlan', 'One plan with its revision', keptSchema, { requestParams, responses: gone }) },
  '/api/plans/{id}/shows': { get: route('shows', 'What its shows usually take', showsSchema, { requestParams: { path, query: z.object({ instructor: z.string().optional() }) }, responses: { ...gone, ...wrong } }) },
  '/api/plans/{id}/versions': { get: route('versions', 'Its former versions, newest first', versionsSchema, { requestParams }) },
  '/api/plans/{id}/versions/{revision}': { get: route('version', 'One former version', planSchema, { requestParams: { path: path.extend({ revision: z.string() }) }, responses: gone }) },
  '/api/plans/{id}/file': { get: route('planFile', 'One plan as a file to keep', planSchema.safeExtend({ $schema: z.string() }), { requestParams, responses: gone }) },
  '/api/plans/{id}/editing': { post: within('editing', 'Say that a page edits this plan; hear who else does, and the newest revision', editorsSchema, { requestParams, ...body(editingSchema), responses: wrong }) },
  '/api/plans/{id}/cover': {
    get: route('cover', 'The note for whoever covers this class', coverSchema, { requestParams }),
    put: within('putCover', 'Keep that note; an empty one takes it away', coverSchema, { requestParams, ...body(coverSchema), responses: { ...wrong, ...gone, ...full } }),
  },
  '/api/home.html': {
    get: download('home', 'One page to take home: the editor, the library and these plans', 'text/html', { requestParams: { query: z.object({ plans: z.string().optional().meta({ description: 'Ids with commas between; all plans where it is left out.' }) }) }, responses: { ...gone, '503': no('It was not built.') } }),
  },
  '/api/bin': { get: route('bin', 'What lies in the bin', binSchema) },
  '/api/bin/{file}/back': { post: within('backFromBin', 'Take a plan out of the bin', keptSchema, { requestParams: { path: z.object({ file: z.string() }) }, responses: { ...gone, '409': no('There is a plan of that name again.') } }) },
  '/api/movements': {
    get: route('movements', 'All movements', movementsSchema),
    post: { operationId: 'addMovement', summary: 'Keep a movement of the studio’s own, without its picture', security: inside, ...body(movementSchema), responses: { '201': ok('As it was kept', movementSchema), ...wrong, ...outside, ...taken, '413': no('It is too long.'), ...often, ...full } },
  },
  '/api/movements/{id}/picture': {
    put: within('putPicture', 'Keep its picture or clip', movementSchema, {
      requestParams, requestBody: { required: true, content: { 'application/octet-stream': { schema: z.string().meta({ description: 'The bytes: PNG, JPEG, WebP, WebM or MP4. What it is is told by what is in it.' }) } } },
      responses: { ...gone, '413': no('It is too large.'), '415': no('It is none of these, or not whole.'), ...broken, ...full },
    }),
  },
  '/api/timetable': {
    get: route('timetable', 'The timetable', timetableBodySchema, { responses: broken }),
    put: within('putTimetable', 'Keep the timetable, with the revision it began with', timetableBodySchema, { ...body(putTimetableSchema), responses: { ...wrong, '409': no('Somebody else changed it meanwhile.'), ...broken, ...full } }),
  },
  '/api/timetable.ics': { get: download('calendar', 'The timetable as iCalendar (RFC 5545)', 'text/calendar') },
  '/api/rooms/{id}/due': { get: route('due', 'The class that is due in a room now', dueSchema, { requestParams }) },
};
