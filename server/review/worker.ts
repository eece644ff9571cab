/** Owns the review's own thread: one question at a time. Leaves alone SQL and figures (beside) and who asks (reviews.ts). */
import { parentPort, workerData } from 'node:worker_threads';
import { type Event, eventSchema } from '../../shared/session/command.ts';
import { listOf, oneOf } from './list.ts';
import { type Asked, many } from './many.ts';
import { type Kinds, type LocalTime, localTime, recordOf, type Recorded } from './record.ts';
import { openRecords, type Stamp } from './records.ts';

export interface ReviewData { readonly folder: string | null; readonly timeZone: string }
export type ReviewReply = { readonly id: number; readonly answer: unknown } | { readonly id: number; readonly error: string };

const port = parentPort;
if (!port) throw new Error('this file is a worker');
const { folder, timeZone } = workerData as ReviewData;

function openReview() {
  const records = openRecords(folder, timeZone);
  const local = localTime(timeZone);
  let kinds: Kinds = {};

  function read(texts: readonly string[], by: Kinds, at: LocalTime, now: number): Recorded | null {
    try {
      const events = texts.map((text): Event => eventSchema.parse(JSON.parse(text)));
      return recordOf(events, by, at, now);
    } catch {
      return null;
    }
  }
  return {
    kinds: (known: Kinds): void => { kinds = known; },
    stale: records.stale,
    keepOnly: (numbers: readonly number[]): void => records.keepOnly(new Set(numbers)),
    put: (stamp: Stamp, texts: readonly string[], now: number): void => records.put(stamp, read(texts, kinds, local, now)),
    remove: (ids: readonly string[]): void => records.remove(ids),
    many: (asked: Asked) => many(records, asked),
    list: (from: number, to: number, after: number, limit: number) => listOf(records, from, to, after, limit),
    one: (id: string) => oneOf(records, id),
    /** What is made of classes of another studio: by what this library says, in that studio's time zone. */
    make: (classes: readonly (readonly string[])[], known: Kinds, zone: string, now: number): (Recorded | null)[] => {
      const at = localTime(zone);
      return classes.map((texts) => read(texts, known, at, now));
    },
    stop: (): void => records.close(),
  };
}
export type ReviewThread = ReturnType<typeof openReview>;
export type ReviewQuestion = { readonly id: number; readonly ask: keyof ReviewThread; readonly with: readonly unknown[] };

const review = openReview();
port.on('message', ({ id, ask, with: given }: ReviewQuestion) => {
  const say = (reply: ReviewReply) => port.postMessage(reply);
  try {
    const run = review[ask] as (...args: readonly unknown[]) => unknown;
    say({ id, answer: run(...given) });
  } catch (error) {
    say({ id, error: error instanceof Error ? error.message : String(error) });
  }
  if (ask === 'stop') port.close();
});
