/** Owns coming in at the desk over HTTP: the password, who is in, which phones are paired, and letting one go. */
import express, { type Request, type Response, Router } from 'express';
import { DESK_LASTS_MS, PASSWORD_LEAST, PASSWORD_MOST } from '../../shared/limits.ts';
import { comeInSchema, type DeskBody, type DevicesBody, newPasswordSchema, revokeSchema } from '../../shared/wire/desk.ts';
import type { ProblemBody } from '../../shared/wire/http.ts';
import { notKept, notKeptStatus } from '../files/files.ts';
import { COOKIE, cookieName, DESK_COOKIE, publicName, tokenIn } from '../pairing.ts';
import type { Studio } from '../studio.ts';
import { TOO_COMMON } from './common.ts';
import { isInsider, withPassword } from './insiders.ts';

export function deskRoutes(studio: Studio): Router {
  const router = Router();
  const { desk, phones, clock } = studio;
  const problem = (error: string): ProblemBody => ({ error });
  const address = (request: Request): string => request.socket.remoteAddress ?? '';
  const deskToken = (request: Request) => tokenIn(request.headers.cookie, DESK_COOKIE);
  const wait = (response: Response, waitMs: number): void => {
    const seconds = Math.ceil(waitMs / 1_000);
    response.set('Retry-After', String(seconds)).status(429).json(problem(`Too many wrong passwords. Wait ${seconds} s, then try again.`));
  };
  const body = express.json({ limit: '1kb' });

  const { length: houses } = studio.settings.houses;
  router.get('/', (request, response) => { response.json({ in: isInsider(studio, request), withPassword: desk.isIn(deskToken(request), clock.now()), ...(houses > 0 ? { houses } : {}) } satisfies DeskBody); });

  router.post('/in', body, async (request, response) => {
    const parsed = comeInSchema.safeParse(request.body);
    if (!parsed.success) return void response.status(400).json(problem(`A password has ${PASSWORD_LEAST} to ${PASSWORD_MOST} letters.`));
    const came = await desk.comeIn(parsed.data.password, address(request), clock.now());
    if ('token' in came) {
      // Who comes in anew is not in twice.
      await desk.goOut(deskToken(request));
      response.cookie(cookieName(DESK_COOKIE, request.secure), came.token, { httpOnly: true, sameSite: 'strict', maxAge: DESK_LASTS_MS, path: '/', secure: request.secure });
      response.json({ in: true, withPassword: true } satisfies DeskBody);
    } else if ('waitMs' in came) {
      wait(response, came.waitMs);
    } else if ('wrong' in came) {
      response.status(403).json(problem('That is not the password. It was shown once where the server was first started; "npm run password" makes a new one.'));
    } else response.status(notKeptStatus(studio.files)).json(problem(notKept(studio.files)));
  });
  router.post('/out', async (request, response) => {
    await desk.goOut(deskToken(request));
    response.clearCookie(cookieName(DESK_COOKIE, request.secure), { path: '/', secure: request.secure }).json({ in: false, withPassword: false } satisfies DeskBody);
  });

  // Of the devices and the password only those speak who gave it: a phone lets no other phone go.
  router.use(withPassword(studio));
  router.get('/devices', (request, response) => {
    const mine = deskToken(request);
    const phone = tokenIn(request.headers.cookie, COOKIE);
    response.json({
      phones: phones.list(clock.now()).map((p) => ({ ...p, mine: phone !== null && p.id === publicName(phone) })),
      desks: desk.list(clock.now()).map((d) => ({ ...d, mine: mine !== null && d.id === publicName(mine) })),
    } satisfies DevicesBody);
  });
  router.post('/revoke', body, async (request, response) => {
    const parsed = revokeSchema.safeParse(request.body);
    if (!parsed.success) return void response.status(400).json(problem('Say which device is to be let go.'));
    const done = parsed.data.kind === 'phone' ? await studio.unpair(parsed.data.id) : await desk.revoke(parsed.data.id);
    if (done) response.json({ done: true });
    else response.status(404).json(problem('There is no such device any more, or it could not be written down. Load the page again.'));
  });
  router.put('/password', body, async (request, response) => {
    const parsed = newPasswordSchema.safeParse(request.body);
    if (!parsed.success) return void response.status(400).json(problem(`A password has ${PASSWORD_LEAST} to ${PASSWORD_MOST} letters.`));
    if (studio.settings.password !== null) return void response.status(409).json(problem('The password is given by HALLCLOCK_PASSWORD. Change it there.'));
    const done = await desk.change(parsed.data.old, parsed.data.password, address(request), clock.now());
    if ('waitMs' in done) return wait(response, done.waitMs);
    if ('wrong' in done) return void response.status(403).json(problem('The old password is another one. The password was not changed.'));
    if ('common' in done) return void response.status(400).json(problem(TOO_COMMON));
    if ('notKept' in done) return void response.status(notKeptStatus(studio.files)).json(problem(notKept(studio.files)));
    response.clearCookie(cookieName(DESK_COOKIE, request.secure), { path: '/', secure: request.secure }).json({ in: false, withPassword: false } satisfies DeskBody);
  });
  return router;
}
