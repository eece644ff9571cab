/** Owns the description of the studio itself: its health, who is let in, its facts for a bad minute, music and pictures, and what describes all this. */
import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { comeInSchema, deskBodySchema, devicesSchema, doneSchema, newPasswordSchema, revokeSchema } from '../../shared/wire/desk.ts';
import { emergencySchema } from '../../shared/wire/emergency.ts';
import { healthSchema, pairedSchema, pairSchema } from '../../shared/wire/http.ts';
import { musicSchema } from '../../shared/wire/messages/sound.ts';
import { body, download, full, gone, no, route, within, withPassword, wrong } from './parts.ts';

const named = { path: z.object({ file: z.string() }) };
const noPassword = { '403': no('This browser did not give the desk\'s password.') };

export const studioPaths: ZodOpenApiPathsObject = {
  '/api/health': { get: route('health', 'Whether the server is well', healthSchema, { responses: { '503': no('It cannot answer now.') } }) },
  '/metrics': { get: download('metrics', 'Numbers for Prometheus, on this machine only', 'text/plain', { responses: { '403': { description: 'Asked from another machine.' } } }) },
  '/api/pair': { post: route('pair', 'Give the six digits of a screen; the answer sets the cookie of its room', pairedSchema, { ...body(pairSchema), responses: { ...wrong, '403': no('That code is on no screen now.'), ...full } }) },
  '/api/desk': { get: route('desk', 'Whether this browser is in', deskBodySchema) },
  '/api/desk/in': { post: route('comeIn', 'Give the desk\'s password; the answer sets a cookie', deskBodySchema, { ...body(comeInSchema), responses: { ...wrong, '403': no('That is not the password.'), ...full } }) },
  '/api/desk/out': { post: route('goOut', 'Leave the desk', deskBodySchema) },
  '/api/desk/devices': { get: route('devices', 'Phones and browsers that are known', devicesSchema, { security: withPassword, responses: noPassword }) },
  '/api/desk/revoke': { post: route('revoke', 'Let one of them go', doneSchema, { security: withPassword, ...body(revokeSchema), responses: { ...wrong, ...noPassword, ...gone } }) },
  '/api/desk/password': { put: route('newPassword', 'Make a new password in place of the old one; everybody at the desk has to give it anew', deskBodySchema, { security: withPassword, ...body(newPasswordSchema), responses: { ...wrong, '403': no('This browser did not give the desk\'s password, or the old one is another.'), '409': no('It is given by HALLCLOCK_PASSWORD.'), ...full } }) },
  '/api/emergency': {
    get: route('emergency', 'The studio\'s facts for a bad minute', emergencySchema),
    put: within('putEmergency', 'Keep them, whole', emergencySchema, { ...body(emergencySchema), responses: { ...wrong, ...full } }),
  },
  '/api/music': { get: route('music', 'The studio\'s music, in the order of its names', musicSchema) },
  '/music/{file}': { get: download('track', 'One file of it, whole or in the pieces that are asked for', 'audio/*', { requestParams: named, responses: { '206': { description: 'The piece that was asked for.' }, '404': { description: 'There is none.' }, '416': { description: 'There is no such piece.' } } }) },
  '/pictures/{file}': { get: download('picture', 'A movement\'s own picture or clip', '*/*', { requestParams: named, responses: { '404': { description: 'There is none.' } } }) },
  '/api/schemas/plan-1.json': { get: download('planSchema', 'The JSON Schema (2020-12) of a plan', 'application/schema+json') },
  '/api/openapi.json': { get: route('openApi', 'This description', z.looseObject({ openapi: z.string() })) },
};
