/** Owns the real connection: a Socket.IO client that reconnects quickly and buffers nothing. */
import { io, type Socket } from 'socket.io-client';
import type { ToDevice } from '../wire/to-device.ts';
import type { ToServer } from '../wire/to-server.ts';
import type { OpenWire } from './wire.ts';

/** The first try after a loss comes at once; then a little apart, so that a returning network is used within a second. */
const AGAIN_FIRST_MS = 100;
const AGAIN_MOST_MS = 200;
/** A try into a dead network is given up soon and made afresh: what it sent is gone, and is sent again only after a second. */
const TRY_MS = 400;
/** Now and then a try is given the time of a slow network; a quick question beside it finds out whether a fresh one would do. */
const PATIENT_TRY_MS = 3_000;
const PATIENT_EVERY = 6;

const BY_SOCKET = ['websocket', 'polling'];
/** Requests first; the connection becomes a socket by itself when it stands. */
const BY_REQUESTS = ['polling', 'websocket'];
/** So many sockets are tried in vain before it is tried by requests. */
const SOCKETS_TRIED = 3;

export interface SocketOptions {
  /** Where the server is; the page's own origin where it is left out. */
  readonly url?: string;
  /** For programs outside a browser, which keep their cookies themselves. */
  readonly headers?: Readonly<Record<string, string>>;
}

export const openSocket = ({ url, headers }: SocketOptions = {}): OpenWire => (listener) => {
  const options = {
    transports: [...BY_SOCKET],
    // A second entry on one page is a second connection; they share nothing.
    forceNew: true,
    reconnectionDelay: AGAIN_FIRST_MS,
    reconnectionDelayMax: AGAIN_MOST_MS,
    timeout: PATIENT_TRY_MS,
    ...(headers ? { extraHeaders: { ...headers } } : {}),
  };
  const socket: Socket<ToDevice, ToServer> = url === undefined ? io(options) : io(url, options);

  socket.on('connect', listener.up);
  socket.on('disconnect', (reason) => {
    listener.down(reason);
    // The library stays away when the server closed the door; a server that stops comes back.
    if (reason === 'io server disconnect') socket.connect();
  });
  socket.on('snapshot', listener.snapshot);
  socket.on('news', listener.news);
  socket.on('presence', listener.presence);
  socket.on('play', listener.play);
  let attempts = 0;
  let patience: ReturnType<typeof setTimeout> | null = null;
  const impatient = () => {
    if (patience !== null) clearTimeout(patience);
    patience = null;
    socket.io.timeout(TRY_MS);
  };
  const again = () => {
    impatient();
    socket.disconnect();
    socket.connect();
  };
  /** While a patient try hangs: once anything at all is answered quickly, a fresh try is better. */
  const beside = () => {
    patience = setTimeout(() => {
      void answers(url ?? '/').then((quickly) => {
        if (patience === null) return;
        if (quickly) again();
        else beside();
      });
    }, TRY_MS / 2);
  };
  socket.on('connect', () => {
    attempts = 0;
    impatient();
    socket.io.opts.transports = [...BY_SOCKET];
  });
  socket.on('connect_error', () => {
    attempts += 1;
    impatient();
    // A browser that saw many sockets fail holds new ones back for seconds (Chromium's throttle); requests it does not.
    if (attempts >= SOCKETS_TRIED) socket.io.opts.transports = [...BY_REQUESTS];
    if (attempts % PATIENT_EVERY === 0) {
      socket.io.timeout(PATIENT_TRY_MS);
      beside();
    }
    listener.failed(attempts);
  });

  const connected = <T>(ask: () => Promise<T>): Promise<T> =>
    socket.connected ? ask() : Promise.reject(new Error('not connected'));

  return {
    join: (message, limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('join', message)),
    sample: (limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('sample')),
    command: (message, limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('command', message)),
    tell: (message, limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('tell', message)),
    sound: (message, limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('sound', message)),
    choose: (message) => { if (socket.connected) socket.emit('choose', message); },
    again,
    close: () => {
      impatient();
      socket.off();
      socket.disconnect();
    },
  };
};

/** Whether anything is answered at an address within the time of one try. */
async function answers(url: string): Promise<boolean> {
  const stop = new AbortController();
  const limit = setTimeout(() => stop.abort(), TRY_MS);
  try {
    await fetch(url, { method: 'HEAD', cache: 'no-store', signal: stop.signal });
    return true;
  } catch {
    return false;
  } finally {
    clearTimeout(limit);
  }
}
