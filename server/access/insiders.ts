/**
 * Owns who may read the logs and write for the studio over HTTP: a paired phone, and a browser
 * that gave the desk's password. Commands to a class are the sockets' and core's business.
 */
import type { Request, RequestHandler } from 'express';
import type { ProblemBody } from '../../shared/wire/http.ts';
import { DESK_COOKIE, tokenIn } from '../pairing.ts';
import type { Studio } from '../studio.ts';

type Asked = Pick<Studio, 'phones' | 'desk' | 'clock'>;

export const isInsider = ({ phones, desk, clock }: Asked, { headers }: Pick<Request, 'headers'>): boolean =>
  phones.known(tokenIn(headers.cookie), clock.now()) || desk.isIn(tokenIn(headers.cookie, DESK_COOKIE), clock.now());

const how = 'Give the desk\'s password at /desk, or open /phone and type the six digits that the screen shows; then try again.';

/** 403 for everybody else, before a body is read. */
const only = (sentence: string) => (studio: Asked): RequestHandler => (request, response, next) => {
  if (isInsider(studio, request)) next();
  else response.status(403).json({ error: `${sentence} ${how}` } satisfies ProblemBody);
};
export const writers = only('This browser may look, but not write.');
export const readers = only('What was done in this studio is for those who teach in it.');

/** 403 for everybody who did not give the desk's password: a paired phone too. */
export const withPassword = ({ desk, clock }: Asked): RequestHandler => (request, response, next) => {
  if (desk.isIn(tokenIn(request.headers.cookie, DESK_COOKIE), clock.now())) next();
  else response.status(403).json({ error: 'This is for those who gave the desk\'s password. Give it at /desk, then try again.' } satisfies ProblemBody);
};
