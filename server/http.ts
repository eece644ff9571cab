/**
 * Owns everything under /api and the headers that all answers carry. Bodies are
 * those of shared/wire/http.ts; an error says what is wrong and what to do.
 */
import { join } from 'node:path';
import express, { type Express, type NextFunction, type Request, type Response } from 'express';
import helmet from 'helmet';
import { z } from 'zod';
import { CLASSES_PAGE_MAX, INSTRUCTOR_MAX, PAIRING_CODE_MS } from '../shared/limits.ts';
import { learned } from '../shared/session/learned.ts';
import { withoutStops } from '../shared/session/without-stops.ts';
import { type ClassBody, type ClassesBody, healthSchema, pairSchema, type ShowsBody } from '../shared/wire/http.ts';
import { deskRoutes } from './access/http.ts';
import { fresh } from './access/fresh.ts';
import { readers, withPassword } from './access/insiders.ts';
import { NotUnderstood } from './core/store.ts';
import { gate } from './door/gate.ts';
import { knownNames } from './door/names.ts';
import { limitRequests } from './door/requests.ts';
import { deskOfHouses } from './houses/desk.ts';
import { givenBy } from './houses/given.ts';
import { houseRoutes } from './houses/http.ts';
import type { Houses } from './houses/houses.ts';
import { viewRoutes } from './houses/view-http.ts';
import type { View } from './houses/view.ts';
import { ownMovements, ownPictures } from './own-movements.ts';
import { COOKIE, cookieName, tokenIn } from './pairing.ts';
import { rootFolder } from './pages.ts';
import { peopleRoutes } from './people/http.ts';
import { planRoutes } from './plans/http.ts';
import { musicRoutes } from './sound/http.ts';
import { monotonicMs } from './real-clock.ts';
import { mayKnowOfStops } from './people/stops.ts';
import { reviewRoutes } from './review/http.ts';
import { isAway } from './store/away.ts';
import type { Studio } from './studio.ts';
import { chainRoutes } from './upward/http.ts';
import type { Upward } from './upward/upward.ts';

const YEAR_MS = 365 * 24 * 3_600_000;

const pageQuery = z.object({
  before: z.coerce.number().int().min(0).optional(),
  limit: z.coerce.number().int().min(1).max(CLASSES_PAGE_MAX).default(30),
});

const showsQuery = z.object({ instructor: z.string().trim().max(INSTRUCTOR_MAX).optional() });

const sorry = (response: Response, status: number, error: string, place: { file?: string; path?: string } = {}): void => {
  response.status(status).json({ error, ...place });
};

/** Everything from this server and nothing from elsewhere; no upgrade to https by the page, which most studios' networks do not have. */
const headers = (promise: boolean) => helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"], scriptSrc: ["'self'"], styleSrc: ["'self'"], imgSrc: ["'self'", 'data:'], fontSrc: ["'self'"],
      connectSrc: ["'self'"], mediaSrc: ["'self'", 'data:', 'blob:'], objectSrc: ["'none'"], baseUri: ["'none'"], formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
  },
  // A year, which OWASP ASVS 5.0 asks for (3.4.1); only where a browser may know who vouches, or it would be locked out.
  strictTransportSecurity: promise ? { maxAge: YEAR_MS / 1_000, includeSubDomains: false } : false,
  crossOriginOpenerPolicy: false,
  originAgentCluster: false,
});

export interface HttpOptions {
  /** Adds the pages; the built ones, or Vite's in development. */
  readonly pages: (app: Express) => void;
  /** Off in development only, where Vite puts scripts into the page. */
  readonly strict: boolean;
  /** Over all houses of a chain; null where there are none. */
  readonly view: View | null;
  /** Studios that report here, and the chain to which this one does. */
  readonly houses: Houses | null;
  readonly upward: Upward | null;
  /** Whether browsers are told to come by https only from now on. */
  readonly promise: () => boolean;
}

export function makeHttp(studio: Studio, startedAtMs: number, { pages, strict, promise, view, houses, upward }: HttpOptions): Express {
  const app = express();
  app.disable('x-powered-by');
  if (strict) {
    const [promised, bare] = [headers(true), headers(false)];
    app.use((request, response, next) => (promise() ? promised : bare)(request, response, next));
  }
  app.use(gate(knownNames(studio.settings.names)), limitRequests(studio.settings.limitLoopback, monotonicMs));

  app.get('/api/health', async (_request, response) => {
    const writable = await studio.store.writable();
    // A kiosk's own page, which is no page of ours, asks whether anything is here (deploy/kiosk/wait.html); it cannot read the answer.
    response.set('Cross-Origin-Resource-Policy', 'cross-origin');
    response.json(healthSchema.parse({
      version: studio.version,
      uptimeS: Math.max(0, (studio.clock.now() - startedAtMs) / 1_000),
      database: writable ? 'writable' : 'not writable',
    }));
  });

  app.get('/metrics', studio.metrics.route);
  app.use('/api', fresh(studio, monotonicMs));
  if (view) app.use('/api/all', withPassword(studio), viewRoutes(view, studio));
  const { version, settings: { keepDays }, clock: { now } } = studio;
  if (houses) {
    app.use('/api/house', houseRoutes(houses, { version, keepDays, now, nowMs: monotonicMs, warn: studio.log.warn, given: () => givenBy(studio) }));
    app.use('/api/desk/houses', withPassword(studio), deskOfHouses(houses, { version, studio }));
  }
  app.use('/api/chain', readers(studio), chainRoutes(upward, houses?.list.length ?? 0, studio));
  app.use('/api/desk', deskRoutes(studio));
  app.use(['/api/classes', '/api/review', '/api/live', '/api/export.csv', '/api/export.json'], readers(studio));
  app.post('/api/pair', express.json({ limit: '1kb' }), async (request, response) => {
    const parsed = pairSchema.safeParse(request.body);
    if (!parsed.success) return sorry(response, 400, 'The code has six digits. They are on the screen.', { path: 'code' });
    const redeemed = await studio.codes.redeem(parsed.data.code, request.socket.remoteAddress ?? '', studio.clock.now());
    if ('waitMs' in redeemed) {
      const seconds = Math.ceil(redeemed.waitMs / 1_000);
      response.set('Retry-After', String(seconds));
      return sorry(response, 429, `Too many wrong codes. Wait ${seconds} s, then try the code that is on the screen.`);
    }
    if ('wrong' in redeemed) {
      return sorry(response, 403, `That code is not on a screen now. Codes work once, for ${PAIRING_CODE_MS / 60_000} minutes.`);
    }
    const token = await studio.pair(redeemed.room, tokenIn(request.headers.cookie));
    if (token === null) return sorry(response, 507, 'The studio could not write this phone down. Tell the studio, then try again.');
    response.cookie(cookieName(COOKIE, request.secure), token, { httpOnly: true, sameSite: 'lax', maxAge: YEAR_MS, path: '/', secure: request.secure });
    response.json({ room: redeemed.room });
  });

  app.get('/api/plans', async (_request, response) => {
    response.json(await studio.library.plans());
  });
  app.get('/api/plans/:id', async (request, response) => {
    const found = await studio.library.plan(request.params.id);
    if (!found) return sorry(response, 404, 'The studio has no such plan.');
    if ('broken' in found) return sorry(response, 422, found.broken, { file: `${request.params.id}.json` });
    response.json(found.plan);
  });
  app.get('/api/plans/:id/shows', async (request, response) => {
    const query = showsQuery.safeParse(request.query);
    if (!query.success) return sorry(response, 400, `"instructor" is a label of at most ${INSTRUCTOR_MAX} letters.`, { path: 'instructor' });
    const found = await studio.library.plan(request.params.id);
    if (!found || 'broken' in found) return sorry(response, 404, 'The studio has no such plan.');
    const shows = learned(await studio.pastShows.times(), found.plan, query.data.instructor || null);
    response.json({ shows } satisfies ShowsBody);
  });
  app.get('/api/movements', async (_request, response) => {
    response.json(await studio.library.movements());
  });

  app.use('/api/movements', ownMovements(studio));
  app.use('/api', peopleRoutes(studio));

  app.get('/api/classes', async (request, response) => {
    const query = pageQuery.safeParse(request.query);
    if (!query.success) return sorry(response, 400, `"before" and "limit" are whole numbers; limit is at most ${CLASSES_PAGE_MAX}.`);
    const { classes, before } = await studio.store.classes(query.data.before ?? null, query.data.limit);
    response.json({ studio: studio.settings.studio, rooms: studio.settings.rooms.map(({ id, name }) => ({ id, name })), classes: [...classes], before } satisfies ClassesBody);
  });
  app.get('/api/classes/:id', async (request, response) => {
    const rows = await studio.store.log(request.params.id).catch((error: unknown) => {
      if (error instanceof NotUnderstood) return error;
      throw error;
    });
    if (rows instanceof NotUnderstood) return sorry(response, 422, `This class cannot be read: ${rows.message}. It was left as it is.`);
    if (rows.length === 0) return sorry(response, 404, 'There is no such class in the log.');
    response.json({
      id: request.params.id, studio: studio.settings.studio, now: studio.clock.now(),
      events: mayKnowOfStops(studio, request, rows[0]?.event) ? rows.map((row) => row.event) : withoutStops(rows.map((row) => row.event)),
    } satisfies ClassBody);
  });
  app.use('/api', reviewRoutes(studio));
  app.use(musicRoutes(studio.music));
  app.use('/api', planRoutes(studio));
  app.use('/api', (_request, response) => sorry(response, 404, 'There is nothing at this address.'));

  app.use(musicRoutes(studio.music));
  app.use('/pictures', ownPictures(studio));
  app.use('/media', express.static(join(rootFolder(), 'media'), { index: false, redirect: false }));
  pages(app);
  app.use((_request: Request, response: Response) => { response.status(404).type('text').send('There is no page at this address.'); });
  app.use((error: Error & { status?: number }, _request: Request, response: Response, next: NextFunction) => {
    if (response.headersSent) return next(error);
    if (isAway(error)) return sorry(response, 503, 'The studio\'s database does not answer. Classes that run go on; try again in a moment.');
    const status = error.status ?? 500;
    if (status >= 500) studio.log.warn(`an answer went wrong: ${error.message}`);
    sorry(response, status, status >= 500 ? 'Something went wrong in the studio. Try again; if it stays, tell the studio.' : 'That request was not understood.');
  });
  return app;
}
