/**
 * Owns what the server is made of, put together: rooms, library, codes, phones.
 * Sockets and HTTP ask it. Leaves alone how either of them speaks.
 */
import { randomBytes, randomInt, randomUUID } from 'node:crypto';
import type { ServerAt } from '../shared/time/units.ts';
import { replay } from '../shared/session/evolve.ts';
import { estimatesOf, learned } from '../shared/session/learned.ts';
import { placeAt } from '../shared/session/place.ts';
import type { Session } from '../shared/session/session.ts';
import type { News } from '../shared/wire/messages/news.ts';
import type { Emergency } from '../shared/wire/emergency.ts';
import type { Snapshot } from '../shared/wire/messages/snapshot.ts';
import { openRoom, runs } from './core/room.ts';
import { type StoppableCore, withStop } from './core/room-stop.ts';
import { timeMark } from './core/server-time.ts';
import { diskFiles, type StudioFiles } from './files/files.ts';
import { takeIn } from './files/take-in.ts';
import { type Metrics, openMetrics } from './metrics.ts';
import { type Library, openLibrary } from './library.ts';
import { openPastShows, type PastShows } from './past-shows.ts';
import { openEmergency, openNotes } from './people/emergency.ts';
import type { Kept } from './people/kept.ts';
import { openKeptStops } from './people/kept-stops.ts';
import { openPeople, type RoomPeople } from './people/people.ts';
import { type Codes, hashOf, publicName, openCodes, openPhones, type Phones } from './pairing.ts';
import { type Clock, clockFrom, monotonicMs, readings } from './real-clock.ts';
import { openReviews, type Reviews } from './review/reviews.ts';
import type { Settings } from './settings.ts';
import { type Music, openMusic } from './sound/music.ts';
import { openWants, type Wants } from './sound/wants.ts';
import { type Desk, openDesk } from './access/desk.ts';
import { boardCodes, boardStops } from './chain/board.ts';
import { openChainClock } from './chain/clock.ts';
import type { Redis } from './chain/redis.ts';
import { openTalk, type Talk } from './chain/talk.ts';
import type { LogStore } from './store/log-store.ts';
import { newestOf } from './store/newest.ts';

export interface Log {
  readonly warn: (sentence: string) => void;
  readonly info: (sentence: string) => void;
}

export interface Hall {
  readonly about: Snapshot['room'];
  readonly core: StoppableCore;
  /** Who is here; in memory only. */
  readonly people: RoomPeople;
}

/** What a room tells those who joined it; the sockets listen. */
export interface Listener {
  /** @param from whether this server decided it, or another */
  readonly news: (room: string, news: News, from: 'here' | 'elsewhere') => void;
  readonly changed: (room: string) => void;
  /** A code was used up; the screens show another. */
  readonly paired: (room: string) => void;
  /** The stop beside a class changed: everybody is told at once. */
  readonly stopped: (room: string) => void;
  /** A phone was forgotten, by its public name: its connections are closed. */
  readonly revoked: (id: string) => void;
}

export interface Studio {
  readonly settings: Settings;
  readonly version: string;
  readonly clock: Clock;
  readonly store: LogStore;
  /** What the studio keeps beside its log. */
  readonly files: StudioFiles;
  readonly library: Library;
  readonly pastShows: PastShows;
  readonly reviews: Reviews;
  readonly music: Music;
  readonly soundWants: Wants;
  readonly phones: Phones;
  readonly codes: Codes;
  readonly desk: Desk;
  readonly metrics: Metrics;
  readonly log: Log;
  /** With other servers of the same log; null where there are none. */
  readonly talk: Talk | null;
  /** Asks the log which phones there are: one may have been paired through another server just now. */
  readonly renewPhones: () => Promise<void>;
  readonly hall: (id: string) => Hall | null;
  readonly halls: () => readonly Hall[];
  readonly emergency: Kept<Emergency>;
  /** By plan: the note for whoever covers it. */
  readonly coverNotes: Kept<Record<string, string>>;
  /** Every room hears what the studio says of itself anew. */
  readonly told: () => void;
  /** The room of a screen that names none. */
  readonly firstRoom: string;
  readonly listen: (listener: Listener) => void;
  /** Makes a token for a room, or adds the room to one that is known. Null where it could not be stored. */
  readonly pair: (room: string, token: string | null) => Promise<string | null>;
  /** Forgets a phone by its public name; it is told at once. False where there is none or it could not be written. */
  readonly unpair: (id: string) => Promise<boolean>;
  readonly stop: () => Promise<void>;
}

const sixDigits = (): string => String(randomInt(1_000_000)).padStart(6, '0');
/** 128 bits, which nobody guesses. */
const newToken = (): string => randomBytes(16).toString('base64url');

/** A phone may join where nobody can be working: no class, a welcome that waits, or a pause. */
export function pairable(session: Session | null, at: ServerAt): boolean {
  if (!session) return true;
  const place = placeAt(session, at);
  const interval = session.intervals[place.index];
  return place.over !== null || session.pause !== null || (interval?.kind === 'talk' && interval.ends === 'go');
}

export async function openStudio(settings: Settings, version: string, media: string, store: LogStore, log: Log, redis: Redis | null = null): Promise<Studio> {
  const { chain } = store;
  const talk = chain ? openTalk(randomUUID(), chain, redis, log.warn) : null;
  const onBoard = chain && talk ? await boardStops(chain, talk, log.warn) : null;
  const files: StudioFiles = store.files ?? diskFiles(settings.data);
  if (store.files) await takeIn(settings.data, store.files, log.info);
  const library = openLibrary(media, files);
  let told = (): void => {};
  const [desk, emergency, coverNotes, soundWants, stops] = await Promise.all([
    openDesk(files, settings.password, log.warn),
    openEmergency(files, log.warn, () => told()), openNotes(files, log.warn), openWants(files, log.warn, () => told()),
    onBoard ?? openKeptStops(settings.data, log.warn),
  ]);
  const music = openMusic(settings.data, log.warn, monotonicMs);
  /** A plan as it is taught: with the note that was left for whoever covers it. */
  const planOf: Library['plan'] = async (id) => {
    const found = await library.plan(id);
    const forCover = coverNotes.now()[id];
    return found && 'plan' in found && forCover !== undefined ? { ...found, plan: { ...found.plan, forCover } } : found;
  };
  const [stored, phones, ...logs] = await Promise.all([
    store.mark(),
    store.phones(),
    ...settings.rooms.map((room) => newestOf(store, room.id, log.warn)),
  ]);
  const lastAt = Math.max(0, ...logs.map((rows) => rows?.at(-1)?.event.at ?? 0));
  const followed = chain && talk ? await openChainClock(chain, talk, lastAt, log.warn) : null;
  const read = readings();
  // As the stored mark has it, does a class run? Then it goes on by that; else the wall clock is believed.
  const asStored = clockFrom(timeMark(read, stored, true, lastAt)).now();
  const classRuns = logs.some((rows) => runs(replay((rows ?? []).map((row) => row.event)), asStored));
  const mark = timeMark(read, stored, classRuns, lastAt);
  if (!followed && !(await store.setMark(mark))) log.warn('the time of this boot could not be written down');
  const clock = followed ?? clockFrom(mark);

  let listener: Listener = { news: () => {}, changed: () => {}, paired: () => {}, stopped: () => {}, revoked: () => {} };
  const pastShows = openPastShows(store, log.warn);
  // Read once before the first class asks; not waited for.
  void pastShows.times();
  const known = openPhones(phones);
  const reviews = openReviews({
    store, data: settings.data, timeZone: settings.studio.timeZone, warn: log.warn, now: clock.now,
    movements: async () => (await library.movements()).movements,
  });
  const halls = new Map<string, Hall>();
  settings.rooms.forEach((about, index) => {
    const core = openRoom({
      id: about.id,
      store,
      now: clock.now,
      timer: clock.timer, shared: store.grown !== undefined,
      newId: randomUUID,
      plan: planOf,
      movement: library.movement,
      estimates: async (plan, instructor) => estimatesOf(learned(await pastShows.times(), plan, instructor)),
      news: (news, from) => listener.news(about.id, news, from),
      changed: () => listener.changed(about.id),
      warn: log.warn,
    }, logs[index] ?? null);
    const stoppable = withStop(core, {
      now: clock.now, changed: () => listener.stopped(about.id), kept: stops.of(about.id, clock.now()), keep: (stop) => stops.keep(about.id, stop),
    });
    halls.set(about.id, { about, core: stoppable, people: openPeople(() => randomInt(2 ** 32) / 2 ** 32) });
  });

  const codes = openCodes(sixDigits, chain && talk ? boardCodes(chain, talk, log.warn, forget) : undefined);
  /** A code that is another's too, or was used up there: the screens show the next. */
  function forget(code: string): void {
    const room = codes.used(code);
    if (room !== null) listener.paired(room);
  }
  const hear = talk && store.files?.connect((file) => talk.say({ say: 'file', file }));
  told = () => { for (const room of halls.keys()) listener.paired(room); };
  talk?.listen((message) => {
    if (message === null || message.say === 'file') hear?.(message?.file ?? null);
    if (message?.say === 'stop') halls.get(message.room)?.core.adopt(message.stop);
    if (message?.say === 'code-used') forget(message.code);
    if (message !== null) return;
    void onBoard?.again([...halls.values()].map(({ about, core }) => ({ room: about.id, beside: core.beside, adopt: core.adopt })), clock.now);
  });
  // Where other servers write to the same log, their rooms are ours.
  store.grown?.((room) => {
    for (const hall of room === null ? halls.values() : [halls.get(room)]) hall?.core.readOn();
    if (room !== null) return;
    void renewPhones().catch(() => {});
  });
  async function renewPhones(): Promise<void> {
    for (const id of known.renew(await store.phones())) listener.revoked(id);
  }

  return {
    settings, version, clock, store, files, library, log, pastShows, reviews,
    phones: known,
    codes, talk, renewPhones,
    desk,
    metrics: openMetrics(() => halls.values(), clock.now),
    hall: (id) => halls.get(id) ?? null,
    halls: () => [...halls.values()],
    emergency, coverNotes, music, soundWants,
    told,
    firstRoom: settings.rooms[0]?.id ?? '',
    listen: (given) => { listener = given; },
    pair: async (room, token) => {
      const kept = token !== null && known.known(token, clock.now()) ? token : newToken();
      if (!(await store.pair(hashOf(kept), room, clock.now()))) return null;
      known.add(hashOf(kept), room, clock.now());
      const hall = halls.get(room);
      if (hall && runs(hall.core.session(), clock.now())) hall.people.takenOver(publicName(kept));
      listener.paired(room);
      return kept;
    },
    unpair: async (id) => {
      const hash = known.drop(id);
      if (hash === null || !(await store.unpair(hash))) return false;
      listener.revoked(id);
      return true;
    },
    stop: async () => {
      await Promise.all([...halls.values()].map((hall) => hall.core.stop()));
      await Promise.all([soundWants.settled(), desk.settled()]);
      await reviews.stop();
      followed?.stop();
      await store.stop();
    },
  };
}

