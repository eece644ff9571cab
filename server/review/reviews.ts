/**
 * Owns the review as the server sees it: opens its thread when somebody first asks,
 * brings the records up to the log, a class at a time, and passes questions on. Leaves
 * alone what is made of a log (record.ts) and what is answered over HTTP (http.ts).
 */
import { Worker } from 'node:worker_threads';
import type { Movement } from '../../shared/movement/movement.ts';
import type { LogStore } from '../store/log-store.ts';
import { untilAt } from './answers.ts';
import type { Kinds } from './record.ts';
import type { Stamp } from './records.ts';
import type { ReviewData, ReviewReply, ReviewThread } from './worker.ts';

export interface Reviews {
  /** Asks the thread; the records are brought up to the log first, or are being brought. */
  readonly ask: <K extends keyof ReviewThread>(what: K, ...args: Parameters<ReviewThread[K]>) => Promise<ReturnType<ReviewThread[K]>>;
  /** Brings the records up to the log; resolves when they are, or after `patienceMs` with how many classes are still to be read. */
  readonly upToDate: (patienceMs: number) => Promise<number>;
  /** These classes are gone from the log. */
  readonly forget: (ids: readonly string[]) => void;
  readonly stop: () => Promise<void>;
}

export interface ReviewNeeds {
  readonly store: Pick<LogStore, 'stamps' | 'texts' | 'readOnly'>;
  readonly data: string;
  readonly timeZone: string;
  readonly movements: () => Promise<readonly Movement[]>;
  readonly now: () => number;
  readonly warn: (sentence: string) => void;
}

/** Classes whose stamps are looked at in one question to the log. */
const EACH_LOOK = 500;
/** Newest classes that are looked at again each time, and all whose answers are open: head counts and answers come after the end. */
const AGAIN = 60;

const source = import.meta.url.endsWith('.ts');
const file = new URL(source ? './worker.ts' : './review.js', import.meta.url);

function startThread(workerData: ReviewData): Worker {
  if (!source) return new Worker(file, { workerData });
  const first = `import('tsx/esm/api').then((tsx) => { tsx.register(); return import(${JSON.stringify(file.href)}); })`;
  return new Worker(first, { eval: true, workerData, execArgv: [] });
}

export function openReviews(needs: ReviewNeeds): Reviews {
  const { store, warn } = needs;
  let thread: Worker | null = null;
  const waiting = new Map<number, { answer: (value: unknown) => void; fail: (error: Error) => void }>();
  let count = 0;
  let working: Promise<void> | null = null;
  let toRead = 0;
  let upTo = 0;
  let openFrom = Infinity;
  let stopped = false;

  function open(): Worker {
    const worker = startThread({ folder: store.readOnly === null ? needs.data : null, timeZone: needs.timeZone });
    worker.on('message', (reply: ReviewReply) => {
      const asked = waiting.get(reply.id);
      waiting.delete(reply.id);
      if ('error' in reply) asked?.fail(new Error(reply.error));
      else asked?.answer(reply.answer);
    });
    const gone = (why: string) => {
      thread = null;
      upTo = 0;
      for (const asked of waiting.values()) asked.fail(new Error(why));
      waiting.clear();
    };
    worker.on('error', (error) => gone(`the thread of the review has failed: ${error.message}`));
    worker.on('exit', () => gone('the thread of the review has ended'));
    worker.unref();
    return worker;
  }

  const ask: Reviews['ask'] = (what, ...args) => new Promise((resolve, reject) => {
    if (stopped) return reject(new Error('the server is stopping'));
    thread ??= open();
    count += 1;
    waiting.set(count, { answer: (value) => resolve(value as never), fail: reject });
    thread.postMessage({ id: count, ask: what, with: args });
  });

  /** Answers count once no more can come: what they come to is told once, and no later one shows in a difference. */
  async function stampsFrom(after: number): Promise<Stamp[]> {
    const all: Stamp[] = [];
    openFrom = Infinity;
    for (let from = after; ;) {
      const page = await store.stamps(from, EACH_LOOK);
      for (const { endedAt, ...stamp } of page) {
        const open = needs.now() < untilAt(endedAt);
        if (open) openFrom = Math.min(openFrom, stamp.number);
        all.push(open ? { ...stamp, answers: 0, ratingSum: 0 } : stamp);
      }
      const last = page.at(-1);
      if (!last || page.length < EACH_LOOK) return all;
      from = last.number;
    }
  }

  async function bring(): Promise<void> {
    const first = upTo === 0;
    // Until it is known how many: at least one.
    if (first) toRead = 1;
    const stamps = await stampsFrom(first ? 0 : Math.max(0, Math.min(upTo - AGAIN, openFrom - 1)));
    if (first) {
      const kinds: Kinds = Object.fromEntries((await needs.movements()).map((m) => [m.id, { met: m.intensity.met, pattern: m.pattern }]));
      await ask('kinds', kinds);
      await ask('keepOnly', stamps.map((s) => s.number));
    }
    const stale = await ask('stale', stamps);
    toRead = stale.length;
    for (const stamp of stale) {
      if (stopped) return;
      await ask('put', stamp, await store.texts(stamp.id), needs.now());
      toRead -= 1;
    }
    upTo = stamps.at(-1)?.number ?? upTo;
  }

  return {
    ask,
    upToDate: (patienceMs) => {
      working ??= bring()
        .catch((error: unknown) => warn(`the records of the review could not be brought up to the log: ${String(error)}`))
        .finally(() => { working = null; toRead = 0; });
      return Promise.race([working.then(() => 0), new Promise<number>((resolve) => { setTimeout(() => resolve(toRead), patienceMs).unref(); })]);
    },
    // A thread that is not open looks through all of the log when it opens.
    forget: (ids) => { if (thread) void ask('remove', ids).catch(() => {}); },
    stop: async () => {
      if (thread) await ask('stop').catch(() => {});
      stopped = true;
      await thread?.terminate();
    },
  };
}
