/**
 * Owns the same files as rows of the studio's database (table documents), for servers that share one log. A lock that
 * the database holds puts those who write in turn; what one of them writes in its turn is there as a whole or not at
 * all. What was listed and read once is still known while the database is away: a class finds its plan and its movements.
 */
import { randomUUID } from 'node:crypto';
import { mkdir, mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { type Files, inTurn, type Listed, pathOf, type StudioFiles, writeWhole } from './files.ts';

/** Asks for rows of the studio: $1 is the studio in each sentence, and the values follow it. */
export type Ask = <R extends object>(sql: string, ...values: readonly unknown[]) => Promise<R[]>;

export interface Needs {
  readonly ask: Ask;
  /** Asks over one connection from BEGIN to COMMIT; rejects, with nothing done, where any of it failed. */
  readonly transaction: <T>(work: (ask: Ask) => Promise<T>) => Promise<T>;
}

export interface PostgresFiles extends StudioFiles {
  /** Lets the others know of what was written, and hears of what they wrote. @returns hear */
  readonly connect: (say: (path: string) => void) => (path: string | null) => void;
  /** Takes away what was laid on this computer's disk to be read from there. */
  readonly stop: () => Promise<void>;
}

/** A list that is known is not waited for any longer: whoever says "start" is answered within two seconds, with the log away too. */
const LIST_PATIENCE_MS = 300;
const late = (ms: number) => new Promise<'late'>((resolve) => { setTimeout(() => resolve('late'), ms).unref(); });
const asBytes = (bytes: string | Buffer): Buffer => (typeof bytes === 'string' ? Buffer.from(bytes, 'utf8') : bytes);

function over(ask: Ask, wrote: (path: string) => void): Files {
  return {
    list: (folder) => ask<Listed>('SELECT name, stamp, length(bytes) AS bytes FROM documents WHERE studio = $1 AND folder = $2 ORDER BY name', folder),
    read: async (folder, name) => (await ask<{ bytes: Buffer }>('SELECT bytes FROM documents WHERE studio = $1 AND folder = $2 AND name = $3', folder, name))[0]?.bytes ?? null,
    write: async (folder, name, bytes) => {
      await ask('INSERT INTO documents (studio, folder, name, stamp, bytes) VALUES ($1, $2, $3, $4, $5) ON CONFLICT (studio, folder, name) DO UPDATE SET stamp = excluded.stamp, bytes = excluded.bytes', folder, name, randomUUID(), asBytes(bytes));
      wrote(pathOf(folder, name));
    },
    remove: async (folder, name) => {
      await ask('DELETE FROM documents WHERE studio = $1 AND folder = $2 AND name = $3', folder, name);
      wrote(pathOf(folder, name));
    },
  };
}

export function postgresFiles({ ask, transaction }: Needs): PostgresFiles {
  const listeners: ((path: string | null) => void)[] = [];
  let say: (path: string) => void = () => {};
  // One connection is enough for those of this server that wait for each other.
  const turn = inTurn();
  const lists = new Map<string, readonly Listed[]>();
  let copies: Promise<string> | null = null;
  const plain = over(ask, (path) => say(path));

  const list: Files['list'] = async (folder) => {
    const known = lists.get(folder);
    const asked = plain.list(folder).then((found) => {
      lists.set(folder, found);
      return found;
    });
    if (!known) return asked;
    const first = await Promise.race([asked, late(LIST_PATIENCE_MS)]).catch(() => 'late' as const);
    asked.catch(() => {});
    return first === 'late' ? lists.get(folder) ?? known : first;
  };

  return {
    ...plain, list, shared: true,
    alone: (work) => turn(async () => {
      const written: string[] = [];
      const done = await transaction(async (ask) => {
        await ask('SELECT pg_advisory_xact_lock(hashtext($1::text || $2::text))', ' documents');
        return work(over(ask, (path) => written.push(path)));
      });
      for (const path of written) say(path);
      return done;
    }),
    place: async (folder, name) => {
      const found = (await list(folder)).find((f) => f.name === name);
      if (!found) return null;
      copies ??= mkdtemp(join(tmpdir(), 'hallclock-copies-'));
      const [at, file] = [await copies, `${found.stamp}${extname(name)}`];
      if (await stat(join(at, file)).then(() => true, () => false)) return join(at, file);
      const bytes = await plain.read(folder, name);
      if (!bytes) return null;
      await mkdir(at, { recursive: true });
      await writeWhole(at, file, bytes);
      return join(at, file);
    },
    heard: (listen) => { listeners.push(listen); },
    stop: async () => { if (copies) await rm(await copies, { recursive: true, force: true }); },
    connect: (tell) => {
      say = tell;
      return (path) => { for (const listener of listeners) listener(path); };
    },
  };
}

