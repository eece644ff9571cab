/** Owns the keeper on disk as the rest of the server sees it: every question goes to the worker, every answer is a promise. */
import { Worker } from 'node:worker_threads';
import type { Appended } from '../core/store.ts';
import type { Keeper } from './database.ts';
import { type LogStore, passed, rowsOf } from './log-store.ts';
import type { Reply } from './worker.ts';

/** The worker stands beside this file in the sources, and beside the bundle when built. */
const source = import.meta.url.endsWith('.ts');
const workerFile = new URL(source ? './worker.ts' : './worker.js', import.meta.url);

/** A worker does not take over what lets the main thread read TypeScript, so from the sources it is told again. */
function startWorker(folder: string): Worker {
  if (!source) return new Worker(workerFile, { workerData: { folder } });
  const first = `import('tsx/esm/api').then((tsx) => { tsx.register(); return import(${JSON.stringify(workerFile.href)}); })`;
  return new Worker(first, { eval: true, workerData: { folder }, execArgv: [] });
}

/**
 * Opens the log of a data folder. Rejects with a sentence that says what to do.
 * @param lost called when the worker is gone without having been asked to go
 */
export async function sqliteStore(folder: string, warn: (sentence: string) => void, lost: () => void): Promise<LogStore> {
  const worker = startWorker(folder);
  const waiting = new Map<number, { answer: (value: unknown) => void; fail: (error: Error) => void }>();
  let count = 0;
  let gone: string | null = null;
  let stopping = false;

  const opened = new Promise<string | null>((resolve, reject) => {
    worker.on('message', (reply: Reply) => {
      if ('opened' in reply) return resolve(reply.readOnly);
      if ('warning' in reply) return warn(reply.warning);
      if ('cannotOpen' in reply) return reject(new Error(reply.cannotOpen));
      const asked = waiting.get(reply.id);
      waiting.delete(reply.id);
      if ('error' in reply) asked?.fail(new Error(reply.error));
      else asked?.answer(reply.answer);
    });
    worker.on('error', (error) => reject(error));
    worker.on('exit', (code) => {
      gone = `the worker of the log has ended (${code})`;
      reject(new Error(gone));
      for (const asked of waiting.values()) asked.fail(new Error(gone));
      waiting.clear();
      if (!stopping) lost();
    });
  });
  const readOnly = await opened;

  const ask = <T>(what: keyof Keeper | 'stop', ...args: readonly unknown[]): Promise<T> =>
    new Promise((resolve, reject) => {
      if (gone !== null) return reject(new Error(gone));
      count += 1;
      waiting.set(count, { answer: (value) => resolve(value as T), fail: reject });
      worker.postMessage({ id: count, ask: what, with: args });
    });
  /** A question whose failure is an answer too; the reason goes to the studio's log. */
  const orElse = <T>(other: T, asked: Promise<T>): Promise<T> =>
    asked.catch((error: Error) => {
      warn(`the log could not be written: ${error.message}`);
      return other;
    });

  return {
    readOnly,
    ...(Object.fromEntries(passed.map((what) => [what, (...args: readonly unknown[]) => ask(what, ...args)])) as unknown as Pick<LogStore, (typeof passed)[number]>),
    // What the worker says went wrong was taken back; what it can no longer say is unknown.
    append: (batch) => gone !== null ? Promise.resolve('failed') : ask<Appended>('append', batch).catch((error: Error) => {
      warn(`a command could not be written: ${error.message}`);
      return gone === null ? 'failed' : 'unknown';
    }),
    log: async (session, after = 0) => rowsOf(await ask('log', session, after)),
    latest: async (room, known = null) => rowsOf(await ask('latest', room, known)),
    close: (summary) => orElse(false, ask('close', summary)),
    classes: (before, limit) => ask('classes', before, limit),
    phones: () => ask('phones'),
    pair: (token, room, at) => orElse(false, ask('pair', token, room, at)),
    unpair: (token) => orElse(false, ask('unpair', token)),
    newest: (limit) => ask('newest', limit),
    shows: (session) => ask('shows', session),
    mark: () => ask('mark'),
    setMark: (mark) => orElse(false, ask('setMark', mark)),
    writable: () => orElse(false, ask('writable')),
    stop: async () => {
      stopping = true;
      await ask('stop').catch(() => {});
      await worker.terminate();
    },
  };
}
