/**
 * Owns the description of the HTTP interface for programs (OpenAPI 3.1), made from the
 * schemas that the server itself reads and answers through. Leaves alone the answers.
 */
import { z } from 'zod';
import { createDocument, type ZodOpenApiOperationObject } from 'zod-openapi';
import { movementSchema } from '../../shared/movement/movement.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { classBodySchema, classesSchema, healthSchema, movementsSchema, plansSchema, problemSchema, showsSchema } from '../../shared/wire/http.ts';
import {
  binnedSchema, binSchema, conflictSchema, dueSchema, editingSchema, editorsSchema, keptSchema, putPlanSchema, putTimetableSchema, timetableBodySchema, versionsSchema,
} from '../../shared/wire/plans.ts';

const json = (schema: z.ZodType) => ({ 'application/json': { schema } });
const ok = (description: string, schema: z.ZodType) => ({ description, content: json(schema) });
const no = (description: string) => ({ description, content: json(problemSchema) });
const id = z.string().meta({ param: { description: 'As the list of plans or rooms has it.' } });
const path = z.object({ id });
const notPaired = { '403': no('This browser was not paired; the sentence says how.') };
const cookie = [{ paired: [] }];
const open = [{}];

const get = (operationId: string, summary: string, schema: z.ZodType, more: Partial<ZodOpenApiOperationObject> = {}): ZodOpenApiOperationObject => ({
  operationId, summary, security: open, ...more,
  responses: { '200': ok(summary, schema), '429': no('Too many requests from this address; wait as Retry-After says.'), ...more.responses },
});
/** Events are many and their shapes belong to the log; every one has its kind and its instant. */
const logOfClass = classBodySchema.extend({ events: z.array(z.looseObject({ type: z.string(), at: z.int() })) });
const gone = { '404': no('There is none of that name.') };
const wrong = { '400': no('It cannot be used: the sentence says what is wrong, where, and what to do.') };

/** @param version of the server */
export const openApi = (version: string): object => createDocument({
  openapi: '3.1.0',
  info: {
    title: 'Hallclock', version, license: { name: 'MIT', identifier: 'MIT' },
    description: 'Plans, movements, the timetable and the log of one studio. Lengths end in Ms or S, instants in At (milliseconds since 1970, UTC). Anybody in the studio may read; writing needs the cookie of a paired browser.',
  },
  servers: [{ url: '/' }],
  components: {
    schemas: { Plan: planSchema, Movement: movementSchema, Problem: problemSchema },
    securitySchemes: { paired: { type: 'apiKey', in: 'cookie', name: 'hallclock', description: 'Set by pairing with the six digits that a screen shows.' } },
  },
  paths: {
    '/api/health': { get: get('health', 'Whether the server is well', healthSchema, { responses: { '503': no('It cannot answer now.') } }) },
    '/api/plans': {
      get: get('plans', 'All plans in short, and files that cannot be used', plansSchema, { responses: { ...wrong } }),
      post: { operationId: 'addPlan', summary: 'Keep a new plan', security: cookie, requestBody: { required: true, content: json(planSchema) }, responses: { '201': ok('As it was kept', keptSchema), ...wrong, ...notPaired, '409': no('There is one of that name already.'), '507': no('The disk did not take it.') } },
    },
    '/api/plans/{id}': {
      get: get('plan', 'One plan', planSchema, { requestParams: { path }, responses: { ...gone, '422': no('Its file cannot be used.') } }),
      put: { operationId: 'putPlan', summary: 'Keep a plan again', description: 'With the revision it began with. What somebody else changed meanwhile is brought together with it; where both changed the same, nothing is overwritten.', security: cookie, requestParams: { path }, requestBody: { required: true, content: json(putPlanSchema) }, responses: { '200': ok('As it was kept', keptSchema), ...wrong, ...notPaired, ...gone, '409': ok('Both changed the same', conflictSchema), '507': no('The disk did not take it.') } },
      delete: { operationId: 'binPlan', summary: 'Put a plan into the bin', security: cookie, requestParams: { path }, responses: { '200': ok('Where it lies', binnedSchema), ...notPaired, ...gone, '409': no('It came with Hallclock and stays.') } },
    },
    '/api/plans/{id}/kept': { get: get('keptPlan', 'One plan with its revision', keptSchema, { requestParams: { path }, responses: gone }) },
    '/api/plans/{id}/shows': { get: get('shows', 'What its shows usually take', showsSchema, { requestParams: { path, query: z.object({ instructor: z.string().optional() }) }, responses: { ...gone, ...wrong } }) },
    '/api/plans/{id}/versions': { get: get('versions', 'Its former versions, newest first', versionsSchema, { requestParams: { path }, responses: { ...wrong } }) },
    '/api/plans/{id}/versions/{revision}': { get: get('version', 'One former version', planSchema, { requestParams: { path: path.extend({ revision: z.string() }) }, responses: gone }) },
    '/api/plans/{id}/file': { get: get('planFile', 'One plan as a file to keep', planSchema.safeExtend({ $schema: z.string() }), { requestParams: { path }, responses: gone }) },
    '/api/plans/{id}/editing': { post: { operationId: 'editing', summary: 'Say that a page edits this plan; hear who else does', security: cookie, requestParams: { path }, requestBody: { required: true, content: json(editingSchema) }, responses: { '200': ok('Who else, and the newest revision', editorsSchema), ...wrong, ...notPaired } } },
    '/api/bin': { get: get('bin', 'What lies in the bin', binSchema, { responses: { ...wrong } }) },
    '/api/bin/{file}/back': { post: { operationId: 'backFromBin', summary: 'Take a plan out of the bin', security: cookie, requestParams: { path: z.object({ file: z.string() }) }, responses: { '200': ok('As it is kept again', keptSchema), ...notPaired, ...gone, '409': no('There is a plan of that name again.') } } },
    '/api/movements': {
      get: get('movements', 'All movements', movementsSchema, { responses: { ...wrong } }),
      post: { operationId: 'addMovement', summary: 'Keep a movement of the studio’s own', security: cookie, requestBody: { required: true, content: json(movementSchema) }, responses: { '201': ok('As it was kept', movementSchema), ...wrong, ...notPaired, '409': no('There is one of that name already.') } },
    },
    '/api/timetable': {
      get: get('timetable', 'The timetable', timetableBodySchema, { responses: { '422': no('Its file cannot be used.') } }),
      put: { operationId: 'putTimetable', summary: 'Keep the timetable, with the revision it began with', security: cookie, requestBody: { required: true, content: json(putTimetableSchema) }, responses: { '200': ok('As it was kept', timetableBodySchema), ...wrong, ...notPaired, '409': no('Somebody else changed it meanwhile.') } },
    },
    '/api/timetable.ics': { get: { operationId: 'calendar', summary: 'The timetable of the next half year as iCalendar (RFC 5545)', security: open, responses: { '200': { description: 'The calendar', content: { 'text/calendar': { schema: z.string() } } }, '429': no('Too many requests from this address.') } } },
    '/api/rooms/{id}/due': { get: get('due', 'The class that is due in a room now', dueSchema, { requestParams: { path }, responses: { ...wrong } }) },
    '/api/classes': { get: get('classes', 'The log, newest first', classesSchema, { requestParams: { query: z.object({ before: z.int().optional(), limit: z.int().optional() }) }, responses: { ...wrong } }) },
    '/api/classes/{id}': { get: get('class', 'Everything that happened in one class', logOfClass, { requestParams: { path }, responses: { ...gone, '422': no('Its log cannot be read.') } }) },
    '/api/schemas/plan-1.json': { get: { operationId: 'planSchema', summary: 'The JSON Schema of a plan', security: open, responses: { '200': { description: 'JSON Schema 2020-12', content: { 'application/schema+json': { schema: z.looseObject({}) } } }, '429': no('Too many requests from this address.') } } },
    '/api/openapi.json': { get: { operationId: 'openApi', summary: 'This description', security: open, responses: { '200': ok('OpenAPI 3.1', z.looseObject({ openapi: z.string() })), '429': no('Too many requests from this address.') } } },
  },
});
