/** Owns the keeper that forgets everything with its process: for tests, simulation and a demo. */
import type { ClassSummary } from '../../shared/wire/http.ts';
import type { Batch, Row, Store } from './store.ts';

export function memoryStore(): Store {
  const logs = new Map<string, Row[]>();
  const summaries: ClassSummary[] = [];
  const commands = new Set<string>();

  const append = (batch: Batch) => {
    const log = logs.get(batch.summary.id) ?? [];
    const newest = summaries.findLast((s) => s.room === batch.summary.room)?.id ?? null;
    if (batch.seq !== log.length + 1 || commands.has(batch.command) || (batch.after !== undefined && batch.after !== newest)) return 'taken';
    commands.add(batch.command);
    logs.set(batch.summary.id, [...log, ...batch.events.map((event, i) => ({ seq: batch.seq + i, command: batch.command, event }))]);
    put(batch.summary);
    return 'stored';
  };
  const put = (summary: ClassSummary) => {
    const index = summaries.findIndex((s) => s.id === summary.id);
    if (index < 0) summaries.push(summary);
    else summaries[index] = summary;
  };

  const behind = (session: string, after = 0): readonly Row[] => (logs.get(session) ?? []).slice(after);

  return {
    append: async (batch) => append(batch),
    log: async (session, after) => behind(session, after),
    latest: async (room, known) => {
      const newest = summaries.findLast((s) => s.room === room)?.id ?? '';
      return behind(newest, newest === known?.session ? known.seq : 0);
    },
    close: async (summary) => {
      const known = logs.has(summary.id);
      if (known) put(summary);
      return known;
    },
    classes: async (before, limit) => {
      const end = before === null ? summaries.length : before;
      const from = Math.max(0, end - limit);
      return { classes: summaries.slice(from, end).reverse(), before: from > 0 ? from : null };
    },
  };
}
