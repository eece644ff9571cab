/** Owns the desk's page of houses over HTTP: which report here, since when each was last heard, a new key, the timetable that is made for one. For those who gave the desk's password. */
import { type Request, type Response, Router } from 'express';
import { HOUSE_CLOCK_OFF_MS } from '../../shared/limits.ts';
import { houseKeyBodySchema, type HousesBody, housesSchema } from '../../shared/wire/house.ts';
import type { ProblemBody } from '../../shared/wire/http.ts';
import { answerTimetable, keepTimetable, timetableBytes, type Whose } from '../plans/timetable-http.ts';
import type { Studio } from '../studio.ts';
import { spanWords } from '../upward/send.ts';
import type { Heard } from './book.ts';
import type { House, Houses } from './houses.ts';

/** A house greets every ten seconds; one that was not heard of for so long is away. */
export const AWAY_MS = 3 * 60_000;

const troublesOf = (heard: Heard | null, now: number, version: string): string[] => heard === null ? [] : [
  ...(now - heard.at > AWAY_MS ? [`It has not been heard for ${spanWords(now - heard.at)}. Classes go on there; what is done arrives when its line is back.`] : []),
  ...(Math.abs(heard.offMs) > HOUSE_CLOCK_OFF_MS ? [`Its clock is ${spanWords(Math.abs(heard.offMs))} ${heard.offMs > 0 ? 'ahead of' : 'behind'} this server's.`] : []),
  ...(heard.version !== version ? [`It runs version ${heard.version}, this server ${version}.`] : []),
  ...(heard.refused === null ? [] : [heard.refused]),
];

interface Needs { readonly version: string; readonly studio: Pick<Studio, 'settings' | 'clock' | 'library'> }
const nobody = (response: Response): void => { response.status(404).json({ error: 'No house of that name reports here. HALLCLOCK_HOUSES names those that do.' } satisfies ProblemBody); };

/** Under /api/desk/houses. */
export function deskOfHouses(houses: Houses, { version, studio }: Needs): Router {
  const router = Router();
  const { settings: { studio: { timeZone } }, clock: { now } } = studio;
  const lineOf = async ({ id, name, book }: House): Promise<HousesBody['houses'][number]> => {
    const [keyAt, heard] = await Promise.all([book.keyAt(), book.heard()]);
    return { id, name, keyAt, heardAt: heard?.at ?? null, upTo: heard?.upTo ?? null, waiting: heard?.waiting ?? 0, plansAt: heard?.plansAt ?? null, conflicts: heard?.conflicts ?? 0, troubles: troublesOf(heard, now(), version) };
  };
  router.get('/', async (_request, response) => {
    try {
      response.json(housesSchema.parse({ timeZone, now: Math.floor(now()), houses: await Promise.all(houses.list.map(lineOf)) } satisfies HousesBody));
    } catch {
      response.status(503).json({ error: 'The database does not answer now. Load the page again in a while.' } satisfies ProblemBody);
    }
  });
  router.post('/:id/key', async (request, response) => {
    const house = houses.of(String(request.params.id));
    if (!house) return nobody(response);
    const key = await house.book.newKey(Math.floor(now()));
    if (key === null) return void response.status(507).json({ error: 'The key could not be written down, so none was made. Try again when the database takes it.' } satisfies ProblemBody);
    response.json(houseKeyBodySchema.parse({ key }));
  });
  /** Nothing where there is no such house, or where it never said what its rooms are; that is answered. */
  async function timetableOf(request: Request, response: Response): Promise<Whose | null> {
    const house = houses.of(String(request.params.id));
    const said = house && await house.book.rooms();
    if (house && said) return { files: house.files, rooms: said.rooms, timeZone: said.timeZone };
    if (!house) nobody(response);
    else response.status(409).json({ error: `${house.name} was not heard yet, so its rooms are not known here. Start its server with its key, then make its timetable.` } satisfies ProblemBody);
    return null;
  }
  router.get('/:id/timetable', async (request, response) => {
    const whose = await timetableOf(request, response);
    if (whose) await answerTimetable(studio, whose, response);
  });
  router.put('/:id/timetable', timetableBytes, async (request, response) => {
    const whose = await timetableOf(request, response);
    if (whose) await keepTimetable(studio, whose, request.body, response);
  });
  return router;
}
