/**
 * Owns the way through Redis, where REDIS_URL names one: Socket.IO's own adapter, which carries
 * messages to devices of other servers, and a channel on which servers talk while the database is
 * away; each studio has a stream and a channel of its own. Without it everything goes through the database (core/read-on.ts, talk.ts). Leaves alone what is sent.
 */
import { createAdapter } from '@socket.io/redis-streams-adapter';
import { createClient } from 'redis';
import type { ServerOptions } from 'socket.io';
import { ONE_STUDIO } from '../store/shape.ts';

export interface Redis {
  readonly adapter: NonNullable<ServerOptions['adapter']>;
  /** Whether it answers now; what is sent while it does not is not kept for later. */
  readonly ready: () => boolean;
  readonly say: (text: string) => void;
  readonly heard: (listen: (text: string) => void) => void;
  readonly close: () => Promise<void>;
}

/** It is right again within a second of its return: the next try is never farther off. */
const TRY_MOST_MS = 400;
const TRY_LEAST_MS = 50;
const PATIENCE_MS = 1_500;
/** A reader waits this long for news, then asks again; a connection that is silent for longer is a dead one. */
const BLOCK_MS = 1_000;
const SILENT_MS = 3_000;
const STREAM = 'hallclock';
const CHANNEL = 'hallclock_said';
/** Messages that the stream holds: seconds of the busiest chain. Whoever missed more asks for a snapshot. */
const STREAM_MOST = 10_000;

/** What somebody has to put right, with Redis's password left out; null where it only does not answer. */
function wrongWith(error: Error & { code?: string }): string | null {
  const text = error.message;
  const why = error.code === 'ENOTFOUND' || error.code === 'EAI_AGAIN' ? 'its host is not known.'
    : /^(WRONGPASS|NOAUTH|NOPERM|ERR AUTH|ERR Client sent AUTH)/.test(text) ? 'Redis does not accept its user or password.'
      : /^ERR (DB index|invalid DB)/.test(text) ? 'there is no database of this number.'
        : /unexpected|parse|protocol|invalid response/i.test(text) ? 'what answers there is no Redis.' : null;
  return why && `REDIS_URL cannot be used: ${why} Leave REDIS_URL out to let servers speak through the database alone.`;
}

/** Rejects with a sentence where the address is wrong. A Redis that does not answer yet is waited for while classes run. */
export async function openRedis(url: string, warn: (sentence: string) => void, studio = ONE_STUDIO): Promise<Redis> {
  const probe = createClient({ url, socket: { connectTimeout: PATIENCE_MS, socketTimeout: PATIENCE_MS, reconnectStrategy: false } });
  probe.on('error', () => {});
  const trouble = await probe.connect().then(() => probe.ping()).then(() => null, (error: Error) => error);
  if (probe.isOpen) probe.destroy();
  const wrong = trouble && wrongWith(trouble);
  if (wrong) throw new Error(wrong);
  let up = trouble === null;
  if (!up) warn(`The Redis of REDIS_URL does not answer (${trouble?.message ?? ''}): is it started, and are host and port right? Classes run; servers speak through the database until it does.`);

  const client = createClient({
    url, pingInterval: BLOCK_MS,
    socket: { connectTimeout: PATIENCE_MS, socketTimeout: SILENT_MS, reconnectStrategy: (tries) => Math.min(TRY_LEAST_MS * 2 ** tries, TRY_MOST_MS) },
  });
  client.on('error', (error: Error) => {
    if (up) warn(`Redis is away (${error.message}). Classes run; servers speak through the database until it is back.`);
    up = false;
  });
  client.on('ready', () => {
    if (!up) warn('Redis is back.');
    up = true;
  });
  const listener = client.duplicate();
  listener.on('error', () => {});
  let listen: (text: string) => void = () => {};
  const [stream, channel] = [STREAM, CHANNEL].map((name) => (studio === ONE_STUDIO ? name : `${name}_${studio}`)) as [string, string];
  // Both go on trying until they are closed; being closed meanwhile is no news.
  void client.connect().catch(() => {});
  void listener.connect().then(() => listener.subscribe(channel, (text) => listen(text))).catch(() => {});
  return {
    adapter: createAdapter(client, { streamName: stream, channelPrefix: stream, maxLen: STREAM_MOST, blockTimeInMs: BLOCK_MS, onlyPlaintext: true }) as NonNullable<ServerOptions['adapter']>,
    ready: () => client.isReady,
    say: (text) => { client.publish(channel, text).catch(() => {}); },
    heard: (tell) => { listen = tell; },
    close: async () => {
      for (const one of [listener, client]) if (one.isOpen) one.destroy();
      await Promise.resolve();
    },
  };
}
