/** Owns starting and stopping the whole server in one process: store, studio, HTTP and sockets, in this order. */
import { createServer, type Server as HttpServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Server as SecureServer } from 'node:https';
import { join } from 'node:path';
import type { Express } from 'express';
import { CONNECTIONS_MAX, TCP_COMES, TCP_PER_ADDRESS_MAX } from '../shared/limits.ts';
import { type Address, addressOf, type Found, withShortName } from './address.ts';
import { openRedis } from './chain/redis.ts';
import { knownNames } from './door/names.ts';
import { limitTcp } from './door/tcp.ts';
import { openHouses } from './houses/houses.ts';
import { openView } from './houses/view.ts';
import { makeHttp } from './http.ts';
import { keepHouse } from './keep/house.ts';
import { beforeUpgrade } from './keep/upgrade.ts';
import { openKept } from './people/kept.ts';
import { builtPages, rootFolder } from './pages.ts';
import { openPlans } from './plans/keep.ts';
import { monotonicMs, readings } from './real-clock.ts';
import type { Settings } from './settings.ts';
import { answerTo, isLoopback, reachedAt } from './short-name.ts';
import { openSockets } from './sockets.ts';
import { postgresStore } from './store/postgres.ts';
import { sqliteStore } from './store/sqlite.ts';
import { type Log, openStudio, type Studio } from './studio.ts';
import type { Certificate } from './tls/certificate.ts';
import { keepCertificate, openCertificate } from './tls/choose.ts';
import { secureServer } from './tls/front.ts';
import { askOver } from './upward/ask.ts';
import { downFileSchema, noDownFile, openDown } from './upward/down.ts';
import { noUpwardFile, openUpward, type Upward, upwardFileSchema } from './upward/upward.ts';

/** A request whose headers take longer is not a browser's; the largest upload takes seconds over bad Wi-Fi. */
const HEADERS_MOST_MS = 10_000;
const REQUEST_MOST_MS = 60_000;
/** Sockets and the requests beside them. */
const TCP_MAX = CONNECTIONS_MAX + 1_000;

export interface Running {
  readonly port: number;
  readonly address: Address;
  /** What is shown under TLS; null where plain HTTP is spoken. */
  readonly certificate: Certificate | null;
  readonly studio: Studio;
  readonly http: HttpServer | SecureServer;
  readonly app: Express;
  readonly close: () => Promise<void>;
}

export interface StartOptions {
  readonly version: string;
  readonly log: Log;
  /** Called when the server cannot go on; whoever started it starts it again. */
  readonly lost: (sentence: string) => void;
  /** Called whenever the short name begins to lead here. @param short as a person types it, with the port */
  readonly byName?: (short: string) => void;
  /** The built pages where this is left out. */
  readonly pages?: (app: Express) => void;
  /** In development Vite puts scripts into the pages, which the strict headers forbid. */
  readonly development?: boolean;
}

/** Rejects with a sentence where the log cannot be opened or the port is taken. */
export async function startServer(asked: Settings, { version, log, lost, byName, pages, development }: StartOptions): Promise<Running> {
  const root = rootFolder();
  const wallMs = () => readings().wallMs;
  const certificate = await openCertificate(asked, wallMs(), log.warn);
  let shown = certificate;
  // The names for which somebody vouches are names of ours.
  const settings = certificate ? { ...asked, names: [...asked.names, ...certificate.names] } : asked;
  const copied = await beforeUpgrade(settings.data, version, log.warn);
  if (copied !== null) log.info(`this version starts here for the first time; what was there before is in ${copied}`);
  const store = settings.database === null
    ? await sqliteStore(settings.data, log.warn, () => lost('the thread that keeps the log has gone'))
    : await postgresStore(settings.database, log.warn, settings.studioId);
  if (store.readOnly !== null) log.warn(`${store.readOnly} Classes go on, but nothing new can be kept and no class can be started.`);
  const redis = settings.redis === null ? null : await openRedis(settings.redis, log.warn, settings.studioId).catch(async (error: Error) => {
    await store.stop();
    throw error;
  });
  const studio = await openStudio(settings, version, join(root, 'media'), store, log, redis);
  const view = await openView(studio);
  const houses = await openHouses(settings, studio.clock.now, log.warn).catch(async (error: Error) => {
    await studio.stop();
    throw error;
  });
  const ending = new AbortController();
  const upward = settings.chain && await reportTo(settings.chain, studio, ending.signal);
  if (settings.chain?.origin.startsWith('http:')) log.warn('HALLCLOCK_CHAIN begins with http: whoever can listen on the way reads this studio\'s key and its logs. Use https outside a network of your own.');
  const app = makeHttp(studio, studio.clock.now(), { view, houses, upward, pages: pages ?? ((a) => builtPages(a, root)), strict: development !== true, promise: () => shown?.vouched ?? false });
  const limits = { headersTimeout: HEADERS_MOST_MS, requestTimeout: REQUEST_MOST_MS };
  const secure = certificate && secureServer(certificate, limits, knownNames(settings.names), app);
  const http = secure ?? createServer(limits, app);
  limitTcp(http, { inAll: TCP_MAX, perAddress: TCP_PER_ADDRESS_MAX, comes: TCP_COMES }, settings.limitLoopback, monotonicMs);
  const port = () => (http.address() as AddressInfo | null)?.port ?? settings.port;
  let ours = () => false;
  const found = () => settings.address ?? withShortName(addressOf(port(), shown), ours() ? settings.shortName : null, shown);
  const sockets = openSockets(http, studio, redis, found);
  await listen(http, settings);
  // Of a server that listens to this computer alone, or behind a balancer, nobody else needs the name.
  const named = settings.shortName === null || settings.address !== null || isLoopback(settings.host) ? null : answerTo(settings.shortName, {
    addresses: () => reachedAt(settings.host), warn: log.warn,
    changed: () => {
      studio.told();
      const { short }: Found = found();
      if (short !== undefined) byName?.(short);
    },
  });
  if (named) ours = named.ours;
  const stopKeeping = keepHouse(studio);
  const stopRenewing = certificate && keepCertificate(asked, certificate, wallMs, log.warn, (next) => {
    shown = next;
    secure?.setSecureContext({ cert: next.cert, key: next.key, minVersion: 'TLSv1.2' });
  });
  return {
    port: port(),
    address: addressOf(port(), certificate),
    certificate,
    studio,
    http,
    app,
    close: async () => {
      stopKeeping();
      await named?.close();
      stopRenewing?.();
      await sockets.close();
      http.closeAllConnections();
      ending.abort();
      await upward?.stop();
      await view?.stop();
      await houses?.stop();
      await studio.stop();
      await redis?.close();
    },
  };
}

/** Begins to report to the chain's server, and to take what it plans. */
async function reportTo({ origin, key }: NonNullable<Settings['chain']>, { settings, store, files, library, version, clock: { now, timer }, log: { warn } }: Studio, ending: AbortSignal): Promise<Upward> {
  const ask = askOver(origin, key, ending);
  const down = openDown({ chain: origin, version, ask, files, plans: openPlans(files, library, now), file: await openKept(files, 'from-chain.json', downFileSchema, noDownFile, warn), now });
  return openUpward({
    chain: origin, ask, down, store, version, about: { timeZone: settings.studio.timeZone, rooms: [...settings.rooms] }, now, timer,
    chance: Math.random, file: await openKept(files, 'upward.json', upwardFileSchema, noUpwardFile, warn), warn,
  });
}

function listen(http: HttpServer | SecureServer, { port, host }: Settings): Promise<void> {
  return new Promise((resolve, reject) => {
    http.once('error', (error: NodeJS.ErrnoException) => {
      reject(new Error(error.code === 'EADDRINUSE'
        ? `Port ${port} is taken by another program. Stop that one, or choose another port (HALLCLOCK_PORT).`
        : error.code === 'EACCES' ? `Port ${port} may not be used. Choose one above 1024 (HALLCLOCK_PORT).`
          : `The server cannot listen: ${error.message}`));
    });
    http.listen(port, host, resolve);
  });
}
