/**
 * Owns the description of the HTTP interface for programs (OpenAPI 3.1), made from the
 * schemas that the server itself reads and answers through. Its routes stand in ../describe,
 * by what they are about. Leaves alone the answers.
 */
import { createDocument } from 'zod-openapi';
import { movementSchema } from '../../shared/movement/movement.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { problemSchema } from '../../shared/wire/http.ts';
import { allPaths } from '../describe/all.ts';
import { chainPaths, housePaths } from '../describe/houses.ts';
import { planPaths } from '../describe/plans.ts';
import { reviewPaths } from '../describe/review.ts';
import { studioPaths } from '../describe/studio.ts';
import { COOKIE, DESK_COOKIE } from '../pairing.ts';

/** @param version of the server @param view whether it looks over houses @param reports whether any of them reports to it */
export const openApi = (version: string, { view, reports }: { readonly view: boolean; readonly reports: boolean }): object => createDocument({
  openapi: '3.1.0',
  info: {
    title: 'Hallclock', version, license: { name: 'MIT', identifier: 'MIT' },
    description: 'All that one studio can be asked over HTTP. Lengths end in Ms or S, instants in At (milliseconds since 1970, UTC). Anybody in the studio may read plans, movements and the timetable; the log, the review and all writing need the cookie of a paired phone or of the desk. A class that runs is told and led over the socket.',
  },
  servers: [{ url: '/' }],
  components: {
    schemas: { Plan: planSchema, Movement: movementSchema, Problem: problemSchema },
    securitySchemes: {
      paired: { type: 'apiKey', in: 'cookie', name: COOKIE, description: 'Set by pairing with the six digits that a screen shows.' },
      desk: { type: 'apiKey', in: 'cookie', name: DESK_COOKIE, description: 'Set by giving the desk\'s password.' },
      ...(reports ? { house: { type: 'http', scheme: 'bearer', description: 'The key of a house, made at the desk.' } } : {}),
    },
  },
  paths: { ...studioPaths, ...planPaths, ...reviewPaths, ...chainPaths, ...(view ? allPaths : {}), ...(reports ? housePaths : {}) },
});
