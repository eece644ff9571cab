/** Owns the chain's view over HTTP: all houses now, the review over them, exports. For those who gave the desk's password. Bodies are those of shared/wire/all.ts. */
import { type RequestHandler, Router } from 'express';
import type { AllLive, AllReview } from '../../shared/wire/all.ts';
import type { ProblemBody } from '../../shared/wire/http.ts';
import { csv } from '../review/csv.ts';
import { drained, EACH_PAGE, EXPORT_PATIENCE_MS, PATIENCE_MS, sendCsv } from '../review/http.ts';
import { rangeOf } from '../review/range.ts';
import { dateOf, localTime } from '../review/record.ts';
import { houseHead, houseRow } from '../review/tables.ts';
import type { Studio } from '../studio.ts';
import type { AskedOver } from './sums.ts';
import type { View } from './view.ts';

/** Under /api/all. */
export function viewRoutes(view: View, { settings, clock, log }: Pick<Studio, 'settings' | 'clock' | 'log'>): Router {
  const router = Router();
  const local = localTime(settings.studio.timeZone);
  const all = view.houses.map((h) => h.id);

  function askedIn({ house, ...query }: Record<string, unknown>): AskedOver | string {
    if (house !== undefined && !all.some((id) => id === house)) return 'There is no house of that name here. HALLCLOCK_HOUSES names those that are looked over.';
    const range = rangeOf(query, local(clock.now()).day);
    return typeof range === 'string' ? range : { ...range, houses: typeof house === 'string' ? [house] : all };
  }
  /** Whatever the database does not answer is a sentence. */
  const asked = (work: (asked: AskedOver, ...given: Parameters<RequestHandler>) => Promise<void>): RequestHandler => async (request, response, next) => {
    const what = askedIn(request.query);
    if (typeof what === 'string') return void response.status(400).json({ error: what } satisfies ProblemBody);
    try {
      await work(what, request, response, next);
    } catch (error) {
      log.warn(`the houses could not be looked over: ${String(error)}`);
      if (response.headersSent) return void response.destroy();
      response.status(503).json({ error: 'The database does not answer now. Classes go on; ask again in a while.' } satisfies ProblemBody);
    }
  };

  router.get('/live', asked(async (_asked, _request, response) => { response.json(await view.live() satisfies AllLive); }));
  router.get('/review', asked(async (what, _request, response) => {
    const toRead = await view.upToDate(PATIENCE_MS);
    response.json({ studio: settings.studio, from: what.from, to: what.to, toRead, ...(await view.review(what)) } satisfies AllReview);
  }));

  /** A range is read and sent page by page. */
  router.get(['/export.csv', '/export.json'], asked(async (what, request, response) => {
    const toRead = await view.upToDate(EXPORT_PATIENCE_MS);
    if (toRead > 0) return void response.status(503).json({ error: `${toRead} classes of the logs are still being read. Try again in a minute.` } satisfies ProblemBody);
    const asCsv = request.path.endsWith('.csv');
    const [from, to] = [dateOf(what.from), dateOf(what.to)];
    const name = `houses-${from}-to-${to}`;
    if (asCsv) sendCsv(response, name).write(csv([houseHead()]));
    else response.attachment(`${name}.json`).write(`{"studio":${JSON.stringify(settings.studio.name)},"from":"${from}","to":"${to}","columns":${JSON.stringify(houseHead())},"classes":[`);
    let any = false;
    for (let after: number | null = 0; after !== null;) {
      const page: Awaited<ReturnType<View['list']>> = await view.list(what, after, EACH_PAGE);
      const rows = page.records.map(({ house, record, timeZone }) => houseRow(house, record, timeZone));
      const text = asCsv ? csv(rows) : rows.map((row) => JSON.stringify(row)).join(',\n');
      if (text !== '' && any && !asCsv) response.write(',\n');
      any ||= rows.length > 0;
      if (!response.write(text)) await drained(response);
      if (response.destroyed) return;
      after = page.next;
    }
    response.end(asCsv ? '' : ']}\n');
  }));
  return router;
}
