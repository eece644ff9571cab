/**
 * Owns what a house's server may ask over HTTP with its key: what is here, take the next, and what is planned for it. The key is looked at
 * before anything is read. Leaves alone the desk's page of houses (desk.ts).
 */
import express, { type NextFunction, type Request, type RequestHandler, type Response, Router } from 'express';
import { z } from 'zod';
import { HOUSE_MESSAGE_MOST_BYTES, HOUSE_RATE } from '../../shared/limits.ts';
import { askHaveSchema, askPlansSchema, heardLogSchema, HOUSE_SPEAKS, type Have, haveSchema, houseKeySchema, type LogTaken, logTakenSchema, type PlansGiven, plansGivenSchema } from '../../shared/wire/house.ts';
import type { ProblemBody } from '../../shared/wire/http.ts';
import { Bucket } from '../door/bucket.ts';
import type { Heard } from './book.ts';
import { type Given, newsFor } from './given.ts';
import type { House, Houses } from './houses.ts';
import { NotWritten, take, whatIsHere } from './receive.ts';

interface Needs {
  readonly version: string;
  readonly keepDays: number;
  readonly now: () => number;
  /** Of a clock that does not go back. */
  readonly nowMs: () => number;
  readonly warn: (sentence: string) => void;
  /** What this server gives to all of its houses. */
  readonly given: () => Promise<Given>;
}

const sorry = (response: Response, status: number, error: string): void => { response.status(status).json({ error } satisfies ProblemBody); };
const BUSY_S = 10;

/** Under /api/house. */
export function houseRoutes(houses: Houses, { version, keepDays, now, nowMs, warn, given }: Needs): Router {
  const router = Router();
  const hello = { speaks: HOUSE_SPEAKS, version } as const;
  const buckets = new Map(houses.list.map((h) => [h.id, new Bucket(HOUSE_RATE, nowMs())]));
  const houseOf = new WeakMap<Request, House>();

  const stranger = (response: Response): void => {
    response.set('WWW-Authenticate', 'Bearer');
    sorry(response, 401, 'This key is not one of a house that reports here. Make a new one at the desk, under Houses.');
  };
  const known: RequestHandler = async (request, response, next) => {
    const key = houseKeySchema.safeParse(/^Bearer (.{1,60})$/.exec(request.headers.authorization ?? '')?.[1]).data;
    const house = key === undefined ? null : houses.of(key.split('.', 1)[0] ?? '');
    try {
      if (key === undefined || !house || !(await house.book.isKey(key, nowMs()))) return stranger(response);
    } catch {
      return away(response);
    }
    if (!buckets.get(house.id)?.take(nowMs())) {
      response.set('Retry-After', String(BUSY_S));
      return sorry(response, 429, `This house asks too much at once. Wait ${BUSY_S} seconds.`);
    }
    houseOf.set(request, house);
    next();
  };
  const away = (response: Response): void => {
    response.set('Retry-After', String(BUSY_S));
    sorry(response, 503, 'The chain\'s database does not answer now. Try again in a while.');
  };
  /** Reads a body of the same form; answers what hinders. */
  function read<T>(schema: z.ZodType<T>, request: Request, response: Response): T | null {
    const speaks = z.looseObject({ speaks: z.int() }).safeParse(request.body).data?.speaks;
    if (speaks !== undefined && speaks !== HOUSE_SPEAKS) {
      const [older, newer] = speaks > HOUSE_SPEAKS ? ['chain', 'studio'] : ['studio', 'chain'];
      sorry(response, 409, `The ${older}'s server is older than the ${newer}'s, and they do not understand each other. Bring the ${older}'s up to the other's version.`);
      return null;
    }
    const parsed = schema.safeParse(request.body);
    if (parsed.success) return parsed.data;
    sorry(response, 400, `This is not what a house's server says: at ${parsed.error.issues[0]?.path.map(String).join('.') || 'the top'}.`);
    return null;
  }
  /** What is last heard is for people to read: it hinders nothing where it cannot be written down. */
  async function hear(house: House, more: Partial<Heard>): Promise<void> {
    try {
      const before = await house.book.heard();
      await house.book.hear({ version: '', offMs: 0, waiting: 0, upTo: null, refused: null, plansAt: null, conflicts: 0, ...before, ...more, at: Math.floor(now()) });
    } catch (error) {
      warn(`when ${house.name} was last heard could not be written down: ${String(error)}`);
    }
  }
  const with_ = (work: (house: House, request: Request, response: Response) => Promise<void>): RequestHandler => async (request, response) => {
    const house = houseOf.get(request);
    if (!house) return stranger(response);
    try {
      await house.inTurn(() => work(house, request, response));
    } catch (error) {
      if (!(error instanceof NotWritten)) {
        warn(`${house.name} could not be answered: ${String(error)}`);
        return away(response);
      }
      response.set('Retry-After', String(BUSY_S));
      sorry(response, 507, 'The chain\'s server could not write it down. Its disk is full or may not be written.');
    }
  };

  router.use(known, express.json({ limit: HOUSE_MESSAGE_MOST_BYTES }));
  router.post('/have', with_(async (house, request, response) => {
    const asked = read(askHaveSchema, request, response);
    if (!asked) return;
    const at = Math.floor(now());
    const classes = await whatIsHere(house.store, asked.classes, keepDays, at);
    await house.book.about(asked.about);
    await hear(house, { version: asked.version, offMs: asked.now - at, waiting: asked.waiting });
    response.json(haveSchema.parse({ ...hello, now: at, classes } satisfies Have));
  }));
  router.post('/log', with_(async (house, request, response) => {
    const sent = read(heardLogSchema, request, response);
    if (!sent) return;
    const classes = await take(house.store, sent.classes);
    const refused = classes.find((c) => c.refused !== null);
    const newest = await newestAt(house);
    await hear(house, { version: sent.version, ...(newest === null ? {} : { upTo: newest }), refused: refused ? `Class ${refused.id} is not taken: ${refused.refused}` : null });
    response.json(logTakenSchema.parse({ ...hello, classes } satisfies LogTaken));
  }));
  router.post('/plans', with_(async (house, request, response) => {
    const asked = read(askPlansSchema, request, response);
    if (!asked) return;
    const { revision, news } = await newsFor(house, await given(), asked);
    await hear(house, { version: asked.version, conflicts: asked.conflicts, ...(news === null ? { plansAt: Math.floor(now()) } : {}) });
    response.json(plansGivenSchema.parse({ ...hello, revision, news } satisfies PlansGiven));
  }));
  router.use((error: Error & { status?: number }, _request: Request, response: Response, next: NextFunction) => {
    if (response.headersSent || error.status !== 413) return next(error);
    sorry(response, 413, 'This message is larger than any that a studio\'s server sends.');
  });
  return router;
}

/** When the newest thing of the newest class was done. */
async function newestAt({ store }: House): Promise<number | null> {
  const [newest] = (await store.classes(null, 1)).classes;
  return newest ? (await store.log(newest.id)).at(-1)?.event.at ?? null : null;
}
