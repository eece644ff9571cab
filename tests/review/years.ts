/**
 * Owns years of a busy studio in a data folder, from one seed:
 *   npx tsx tests/review/years.ts --data FOLDER --classes 20000 --events 60 --seed 1 --until 2026-11-25
 * Some hundred classes are really held; the others are these again at another time, in
 * another room, with other people, so that ten years take a minute to make.
 */
import { join } from 'node:path';
import { openDatabase, keeper, FILE } from '../../server/store/database.ts';
import { overAt } from '../../server/core/summary.ts';
import { replay } from '../../shared/session/evolve.ts';
import type { Event } from '../../shared/session/command.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, serverAt } from '../../shared/time/units.ts';
import { startsMs } from '../../shared/plan/totals.ts';
import { chanceOf, longTailed, uuid, whole } from '../simulation/chance.ts';
import { held, moved, plans } from './held.ts';

export interface Years {
  readonly data: string;
  readonly classes: number;
  readonly events: number;
  readonly seed: number;
  /** The day after the last class, as "2026-11-25". */
  readonly until: string;
  readonly rooms: readonly string[];
  /** How many different classes are held. */
  readonly different: number;
}

const DAY_MS = 86_400_000;
/** Starts of a weekday in UTC; with two rooms forty classes a week, 20,000 in ten years. */
const slots = [[7, 0], [9, 30], [16, 30], [18, 15]] as const;

export function makeYears({ data, classes, events, seed, until, rooms, different }: Years): { events: number; bytesOf: string } {
  const chance = chanceOf(seed, 'years');
  const patterns: Event[][] = [];
  for (let k = 0; k < different; k += 1) {
    const plan = plans[k % plans.length];
    if (!plan) throw new Error('no plans');
    const startedAt = serverAt(Date.UTC(2020, 0, 6, 17, 0));
    // Some begin late, most within a minute; the floor must be free when the plan would have ended, and a little later.
    const [first] = held({ id: 'probe', room: 'probe', plan, startedAt, freeAt: null, events: 1, people: 1 }, chanceOf(seed, `probe ${k}`));
    const lengthMs = first?.type === 'started' ? (startsMs(first.intervals).at(-1) ?? 0) + (first.intervals.at(-1)?.lengthMs ?? 0) : 0;
    const lateMs = chance() < 0.3 ? longTailed(chance, 150_000, 0.6) : 0;
    const freeAt = chance() < 0.85 ? after(startedAt, Math.round(lengthMs + 40_000 - lateMs)) : null;
    patterns.push(held({ id: 'pattern', room: 'pattern', plan, startedAt, freeAt, events, people: 10 }, chanceOf(seed, `class ${k}`)));
  }
  const { db } = openDatabase(data);
  db.pragma('synchronous = OFF');
  const keep = keeper(db, (sentence) => { throw new Error(sentence); });
  const firstDay = Math.floor(Date.parse(`${until}T00:00:00Z`) / DAY_MS);
  const times: { at: number; room: string; slot: number }[] = [];
  for (let day = firstDay - 1; times.length < classes; day -= 1) {
    const weekday = (day + 3) % 7;
    if (weekday > 4) continue;
    for (const [slot, [hour, minute]] of slots.entries()) {
      for (const room of rooms) {
        if (times.length < classes) times.push({ at: day * DAY_MS + (hour * 60 + minute) * 60_000 + whole(chance, 0, 90) * 1_000, room, slot: slot + weekday });
      }
    }
  }
  let total = 0;
  for (const { at, room, slot } of times.sort((a, b) => a.at - b.at)) {
    // A class of the week stays with its plan.
    const pattern = patterns[(whole(chance, 0, Math.floor(different / plans.length) - 1) * plans.length + (slot % plans.length)) % different] ?? [];
    const id = uuid(chance);
    const log = moved(pattern, { id, room, startedAt: serverAt(at), people: whole(chance, 5, 19) });
    const session = replayed(pattern, log);
    const over = overAt(session);
    const heads = log.findLast((e) => e.type === 'counted-heads');
    const appended = keep.append({
      summary: {
        id, room, plan: session.plan.id, name: session.plan.name, startedAt: at, endedAt: over.at + (at - session.startedAt), how: over.how,
        headCount: heads?.type === 'counted-heads' ? heads.n : null,
      },
      seq: 1, command: uuid(chance), events: log,
    });
    if (appended !== 'stored') throw new Error(`class ${id} was not stored`);
    total += log.length;
    const middle = whole(chance, 4, 7);
    const answers = chance() < 0.7 ? whole(chance, 1, 11) : 0;
    for (let k = 0; k < answers; k += 1) keep.answer(id, Math.max(0, Math.min(10, middle + whole(chance, -2, 2))));
  }
  db.pragma('wal_checkpoint(TRUNCATE)');
  db.close();
  return { events: total, bytesOf: join(data, FILE) };
}

const sessions = new WeakMap<Event[], Session>();
/** The class that a pattern comes to, folded once. */
function replayed(pattern: Event[], log: Event[]): Session {
  const known = sessions.get(pattern) ?? replay(log);
  if (!known) throw new Error('a pattern without a class');
  sessions.set(pattern, known);
  return known;
}

if (process.argv[1] === import.meta.filename) {
  const arg = (name: string, other: string): string => process.argv[process.argv.indexOf(`--${name}`) + 1] && process.argv.includes(`--${name}`) ? String(process.argv[process.argv.indexOf(`--${name}`) + 1]) : other;
  const data = arg('data', '');
  if (data === '') throw new Error('--data FOLDER is missing');
  const from = performance.now();
  const made = makeYears({
    data, classes: Number(arg('classes', '20000')), events: Number(arg('events', '60')), seed: Number(arg('seed', '1')), until: arg('until', '2026-11-25'),
    rooms: arg('rooms', 'garden,street').split(','), different: Number(arg('different', '300')),
  });
  process.stdout.write(`${made.events} events into ${made.bytesOf}, ${((performance.now() - from) / 1_000).toFixed(1)} s\n`);
}
