/**
 * Owns taking a house's logs: what of each class is here, and the next of its commands, each whole or not at all.
 * The number of an event and the id of a command arbitrate in the house's own keeper, so that what arrives twice,
 * late, or through two servers at once is there once. A class is replayed before any of it is kept: one that does
 * not follow from itself is refused, alone. Leaves alone who may send (book.ts) and how (http.ts).
 */
import { EVENTS_MAX } from '../../shared/limits.ts';
import { type Event, eventSchema } from '../../shared/session/command.ts';
import { evolve, replay } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import type { AskHave, Have, HeardChunk, LogTaken } from '../../shared/wire/house.ts';
import { NotUnderstood, type Row } from '../core/store.ts';
import { overAt, summaryOf } from '../core/summary.ts';
import type { Far } from '../store/keeping.ts';
import type { LogStore } from '../store/log-store.ts';

export type HouseStore = Pick<LogStore, 'append' | 'log' | 'close' | 'far' | 'answersAtLeast'>;
type Stands = LogTaken['classes'][number];
/** What was sent could not be written down. */
export class NotWritten extends Error {}
/** One class cannot be taken, whatever is tried again. */
class Refused extends Error {}

const DAY_MS = 86_400_000;
/** So often a class is read on because somebody else has written to it meanwhile. */
const READ_ON_MOST = 5;

const standsOf = (id: string, far: Far | undefined): Omit<Stands, 'refused'> => ({ id, seq: far?.seq ?? 0, last: far?.last ?? null, closed: far !== undefined && far.endedAt !== null, answers: far?.answers ?? 0 });
export const OTHERWISE = 'at the chain it goes on otherwise than here. Both were left as they are: was the studio\'s data put back from an older copy?';

/** @param keepDays how long the chain keeps logs; older ones are not asked for. 0: for ever */
export async function whatIsHere(store: Pick<HouseStore, 'far'>, asked: AskHave['classes'], keepDays: number, now: number): Promise<Have['classes']> {
  const found = new Map((await store.far(asked.map((c) => c.id))).map((f) => [f.id, f]));
  return asked.map(({ id, startedAt }) => {
    const far = found.get(id);
    return { ...standsOf(id, far), unwanted: keepDays > 0 && startedAt < now - keepDays * DAY_MS };
  });
}

/** Takes what was sent, in its order. Rejects with NotWritten, or as the keeper does, where it cannot go on; what was taken until then stays. */
export async function take(store: HouseStore, chunks: readonly HeardChunk[]): Promise<Stands[]> {
  const out: Stands[] = [];
  for (const chunk of chunks) {
    let refused: string | null = null;
    try {
      await takeClass(store, chunk);
    } catch (error) {
      if (!(error instanceof Refused) && !(error instanceof NotUnderstood)) throw error;
      refused = error instanceof Refused ? error.message : `what the chain has of it cannot be read there (${error.message}). It was left as it is.`;
    }
    const [far] = await store.far([chunk.id]);
    out.push({ ...standsOf(chunk.id, far), refused });
  }
  return out;
}

async function takeClass(store: HouseStore, chunk: HeardChunk): Promise<void> {
  const commands = understood(chunk);
  for (let tries = 0; tries < READ_ON_MOST; tries += 1) {
    const rows = await store.log(chunk.id);
    // Something before it is missing: the answer says from where on.
    if (rows.length < chunk.from - 1) return;
    if (chunk.from > 1 && rows[chunk.from - 2]?.command !== chunk.after) throw new Refused(OTHERWISE);
    const session = await append(store, chunk, commands, rows);
    if (session === 'taken') continue;
    const sent = (commands.at(-1)?.seq ?? chunk.from) + (commands.at(-1)?.events.length ?? 0) - 1;
    if (session && chunk.closed && sent >= session.seq) await close(store, session.now);
    if (session && chunk.answers.length > 0) await store.answersAtLeast(chunk.id, chunk.answers);
    return;
  }
  throw new Refused('somebody else writes to it at the chain. A class is held by one server: is this studio\'s id used twice?');
}

interface Numbered { readonly id: string; readonly seq: number; readonly events: readonly Event[] }

function understood(chunk: HeardChunk): Numbered[] {
  let seq = chunk.from;
  return chunk.commands.map(({ id, events }) => {
    const first = seq;
    const read = events.map((event, i): Event => {
      const parsed = eventSchema.safeParse(event);
      if (!parsed.success) throw new Refused(`the chain's server does not understand its event ${first + i}: it is older than this studio's. Bring the chain's up to this version.`);
      return parsed.data;
    });
    seq += events.length;
    return { id, seq: first, events: read };
  });
}

/** What is there already has to be the same; the rest follows on it. @returns the class as it stands then, 'taken' where it has to be read on */
async function append(store: HouseStore, { id }: HeardChunk, commands: readonly Numbered[], rows: readonly Row[]): Promise<{ readonly now: Session; readonly seq: number } | 'taken' | null> {
  let session = follow(null, rows.map((row) => row.event));
  let have = rows.length;
  for (const { id: command, seq, events } of commands) {
    if (seq <= have) {
      if (rows[seq - 1]?.command !== command) throw new Refused(OTHERWISE);
      continue;
    }
    const next = follow(session, events);
    if (!next || next.id !== id) throw new Refused('it is another class than it says. It was not taken.');
    if (seq + events.length - 1 > EVENTS_MAX) throw new Refused(`it has more than ${EVENTS_MAX} events, which is the most of one class.`);
    const outcome = await store.append({ summary: summaryOf(next, next.lastAt), seq, command, events });
    if (outcome === 'failed') throw new NotWritten();
    if (outcome !== 'stored') return 'taken';
    session = next;
    have = seq + events.length - 1;
  }
  return session && { now: session, seq: have };
}

function follow(session: Session | null, events: readonly Event[]): Session | null {
  if (session && events.some((e) => e.type === 'started')) throw new Refused('it begins twice. It was not taken further.');
  try {
    return session ? events.reduce<Session>(evolve, session) : replay(events);
  } catch {
    throw new Refused('its events do not follow from each other. It was not taken further.');
  }
}

async function close(store: HouseStore, session: Session): Promise<void> {
  if (!(await store.close(summaryOf(session, overAt(session).at)))) throw new NotWritten();
}
