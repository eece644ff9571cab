/** Owns what the routes of planning share: who may write, ids in addresses, how a refusal is answered. */
import type { Request, Response } from 'express';
import type { z } from 'zod';
import type { ProblemBody } from '../../shared/wire/http.ts';
import type { Refused } from './keep.ts';

export const sorry = (response: Response, status: number, error: string, path?: string): void => {
  response.status(status).json({ error, ...(path === undefined ? {} : { path }) } satisfies ProblemBody);
};

/** An id from an address; anything else leads nowhere. */
export const idIn = (request: Request): string => {
  const id = String(request.params.id);
  return /^[a-z0-9]+(-[a-z0-9]+)*$/.test(id) && id.length <= 60 ? id : '-';
};

/** Answers with the body, or with the refusal and its status. */
export function answer<T extends object>(response: Response, status: number, schema: z.ZodType<T>, got: T | Refused): void {
  if ('status' in got && 'body' in got) response.status(got.status).json(got.body);
  else response.status(status).json(schema.parse(got));
}
