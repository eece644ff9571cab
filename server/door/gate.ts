/**
 * Owns who may speak to this server over HTTP at all: called by a name of its own, and
 * written to by its own pages only. Leaves alone what anybody may do (roles).
 */
import type { NextFunction, Request, RequestHandler, Response } from 'express';
import { type Known, sameOrigin } from './names.ts';

const WRITES = new Set(['POST', 'PUT', 'PATCH', 'DELETE']);

export const unknownName = (host: string | undefined): string =>
  `This server is not called "${(host ?? '').slice(0, 80)}". Open the address that stands on the screen, or tell the studio to add the name (HALLCLOCK_NAMES).`;

/** 421 for a name that is not ours (RFC 9110 section 15.5.20), 403 for a write that another site's page made. */
export function gate(known: Known): RequestHandler {
  return (request: Request, response: Response, next: NextFunction) => {
    const { host, origin } = request.headers;
    if (!known(host)) {
      response.status(421).json({ error: unknownName(host) });
      return;
    }
    // A browser says itself where a request came from (W3C Fetch Metadata); older ones send the origin with every write.
    const site = request.headers['sec-fetch-site'];
    const foreign = !sameOrigin(origin, host, request.secure) || (site !== undefined && site !== 'same-origin' && site !== 'none');
    if (WRITES.has(request.method) && foreign) {
      response.status(403).json({ error: 'That came from a page of another site. Open the page of the studio itself, and do it there.' });
      return;
    }
    next();
  };
}
