/**
 * Owns what every described route shares (OpenAPI 3.1): bodies as JSON, refusals as sentences, who may ask.
 * The routes themselves stand beside, by what they are about.
 */
import { z } from 'zod';
import type { ZodOpenApiOperationObject } from 'zod-openapi';
import { problemSchema } from '../../shared/wire/http.ts';

export const json = (schema: z.ZodType) => ({ 'application/json': { schema } });
export const ok = (description: string, schema: z.ZodType) => ({ description, content: json(schema) });
/** What is no JSON: text, a picture, music. */
export const file = (description: string, type: string) => ({ description, content: { [type]: { schema: z.string() } } });
export const no = (description: string) => ({ description, content: json(problemSchema) });

const id = z.string().meta({ param: { description: 'As the list of plans, movements, rooms or classes has it.' } });
export const path = z.object({ id });
export const body = (schema: z.ZodType) => ({ requestBody: { required: true, content: json(schema) } });

/** Nobody needs anything. */
export const open = [{}];
/** A paired phone, or a browser that gave the desk's password. */
export const inside = [{ paired: [] }, { desk: [] }];
/** Only a browser that gave the desk's password. */
export const withPassword = [{ desk: [] }];

export const often = { '429': no('Too many requests from this address; wait as Retry-After says.') };
export const gone = { '404': no('There is none of that name.') };
export const wrong = { '400': no('It cannot be used: the sentence says what is wrong, where, and what to do.') };
export const outside = { '403': no('This browser is not in: it was not paired, and did not give the password; the sentence says how.') };
export const full = { '507': no('The disk did not take it.') };

type More = Partial<ZodOpenApiOperationObject>;
/** A route that answers 200 with a body, to everybody where `more` does not say otherwise. */
export const route = (operationId: string, summary: string, schema: z.ZodType, more: More = {}): ZodOpenApiOperationObject => ({
  operationId, summary, security: open, ...more, responses: { '200': ok(summary, schema), ...often, ...more.responses },
});
/** The same, for those inside only. */
export const within = (operationId: string, summary: string, schema: z.ZodType, more: More = {}): ZodOpenApiOperationObject =>
  route(operationId, summary, schema, { security: inside, ...more, responses: { ...outside, ...more.responses } });
/** A route that answers with what is no JSON. */
export const download = (operationId: string, summary: string, type: string, more: More = {}): ZodOpenApiOperationObject => ({
  operationId, summary, security: open, ...more, responses: { '200': file(summary, type), ...often, ...more.responses },
});
