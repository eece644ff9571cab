/**
 * Owns the thread that owns the database: one question at a time, in the order
 * they came. Leaves alone SQL (database.ts) and who asks (sqlite.ts).
 */
import { parentPort, workerData } from 'node:worker_threads';
import { CannotOpen, type Keeper, keeper, openDatabase } from './database.ts';

export type Question = { [K in keyof Keeper]: { readonly id: number; readonly ask: K; readonly with: Parameters<Keeper[K]> } }[keyof Keeper]
  | { readonly id: number; readonly ask: 'stop'; readonly with: readonly [] };

export type Reply =
  | { readonly opened: true; readonly readOnly: string | null }
  | { readonly cannotOpen: string }
  | { readonly warning: string }
  | { readonly id: number; readonly answer: unknown }
  | { readonly id: number; readonly error: string };

const port = parentPort;
if (!port) throw new Error('this file is a worker');
const say = (reply: Reply) => port.postMessage(reply);

function serve(folder: string): void {
  const { db, readOnly } = openDatabase(folder);
  const keep = keeper(db, (warning) => say({ warning }));
  const writes = new Set<Question['ask']>(['append', 'close', 'pair', 'unpair', 'setMark', 'writable', 'answer', 'answersAtLeast', 'remove']);
  say({ opened: true, readOnly });

  const answer = (question: Question): unknown => {
    if (readOnly !== null && writes.has(question.ask)) return question.ask === 'append' ? 'failed' : false;
    if (question.ask === 'stop') {
      db.close();
      return true;
    }
    const run = keep[question.ask] as (...args: readonly unknown[]) => unknown;
    return run(...question.with);
  };

  port?.on('message', (question: Question) => {
    const failed = (error: unknown) => say({ id: question.id, error: error instanceof Error ? error.message : String(error) });
    try {
      const answered = answer(question);
      // A backup takes its time, and other questions are answered in between.
      if (answered instanceof Promise) answered.then((done: unknown) => say({ id: question.id, answer: done }), failed);
      else say({ id: question.id, answer: answered });
    } catch (error) {
      failed(error);
    }
    if (question.ask === 'stop') port.close();
  });
}

try {
  serve((workerData as { folder: string }).folder);
} catch (error) {
  say({ cannotOpen: error instanceof CannotOpen ? error.message : `The log cannot be opened: ${String(error)}` });
  port.close();
}
