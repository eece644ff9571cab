/**
 * Owns years of several houses in one PostgreSQL, from a seed (tests/review/years.ts), and the same classes in the one-studio
 * code beside it: the records of each house, and of all of them as if they were one.
 */
import Database from 'better-sqlite3';
import { join } from 'node:path';
import { tellAbout } from '../../server/houses/about.ts';
import { overKey } from '../../server/houses/gather.ts';
import type { Batch } from '../../server/core/store.ts';
import { many } from '../../server/review/many.ts';
import { localTime, recordOf, type Recorded } from '../../server/review/record.ts';
import { openRecords } from '../../server/review/records.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { FILE } from '../../server/store/database.ts';
import type { Event } from '../../shared/session/command.ts';
import type { ClassSummary } from '../../shared/wire/http.ts';
import { movements } from '../review/held.ts';
import { makeYears } from '../review/years.ts';
import { newFolder } from '../server/serve.ts';

export interface HouseYears { readonly id: string; readonly timeZone: string; readonly rooms: readonly string[]; readonly classes: number; readonly seed: number }
const kinds = Object.fromEntries(movements.map((m) => [m.id, { met: m.intensity.met, pattern: m.pattern }]));

/** What a random studio does not do by itself: somebody needed help, a plan and a move got other names. @param k which class it is */
function changed(events: readonly Event[], k: number): readonly Event[] {
  const [start, ...rest] = events;
  if (start?.type !== 'started') throw new Error('no start');
  const facts = k % 3 === 0 ? Object.fromEntries(Object.entries(start.facts).map(([id, f]) => [id, { ...f, name: `${f.name} ${k % 2}` }])) : start.facts;
  const first: Event = { ...start, facts, plan: { ...start.plan, name: `${start.plan.name}${k % 5 === 0 ? ' anew' : ''}` } };
  if (k % 9 !== 4) return [first, ...rest];
  return [first, { type: 'stopped', at: start.at }, { type: 'came-back', at: start.at }, { type: 'carried-on', at: start.at, countInMs: 3_000 }, ...rest.filter((e) => e.type === 'ended')];
}

export async function yearsOf(url: string, houses: readonly HouseYears[], until: string) {
  const of = new Map(houses.map((h) => [h.id, openRecords(null, h.timeZone)]));
  const together = openRecords(null, 'UTC');
  for (const house of houses) {
    const data = newFolder();
    makeYears({ data, classes: house.classes, events: 30, seed: house.seed, until, rooms: house.rooms, different: Math.min(10, house.classes) });
    const db = new Database(join(data, FILE), { readonly: true });
    const store = await postgresStore(url, () => {}, house.id);
    if (!store.chain) throw new Error('no chain');
    await tellAbout(store.chain, { studio: { name: house.id, timeZone: house.timeZone }, rooms: house.rooms.map((id, pattern) => ({ id, name: `The ${id}`, pattern })) });
    const sessions = db.prepare('SELECT * FROM sessions ORDER BY number').all() as ClassSummary[];
    const eventsOf = db.prepare('SELECT event FROM events WHERE session = ? ORDER BY seq').pluck();
    const answersOf = db.prepare('SELECT rating, n FROM answers WHERE session = ?');
    for (const [k, { id, room, plan, name, startedAt, endedAt, how, headCount }] of sessions.entries()) {
      const events = changed((eventsOf.all(id) as string[]).map((text) => JSON.parse(text) as Event), k);
      const batch: Batch = { summary: { id, room, plan, name, startedAt, endedAt, how, headCount }, seq: 1, command: `${id} once`, events };
      if (await store.append(batch) !== 'stored') throw new Error('not stored');
      const answers = answersOf.all(id) as { rating: number; n: number }[];
      for (const { rating, n } of answers) for (let i = 0; i < n; i += 1) await store.answer(id, rating);
    }
    for (const { endedAt: _endedAt, ...stamp } of await store.stamps(0, 1_000_000)) {
      const recorded = recordOf((await store.log(stamp.id)).map((row) => row.event), kinds, localTime(house.timeZone), Number.MAX_SAFE_INTEGER);
      const over = (r: Recorded): Recorded => ({ ...r, record: { ...r.record, room: overKey(house.id, r.record.room), series: overKey(house.id, r.record.series) } });
      of.get(house.id)?.put(stamp, recorded);
      together.put(stamp, recorded && over(recorded));
    }
    db.close();
    await store.stop();
  }
  return {
    /** The one-studio code, of one house or of all. */
    many: (house: string | null, asked: Parameters<typeof many>[1]) => {
      const records = house === null ? together : of.get(house);
      if (!records) throw new Error('no such house');
      return many(records, asked);
    },
  };
}
