/** Owns the real connection: a Socket.IO client that reconnects quickly and buffers nothing. */
import { io, type Socket } from 'socket.io-client';
import type { ToDevice } from '../wire/to-device.ts';
import type { ToServer } from '../wire/to-server.ts';
import type { OpenWire } from './wire.ts';

/** The first try after a loss comes at once; then a little apart, so that a returning network is used within a second. */
const AGAIN_FIRST_MS = 100;
const AGAIN_MOST_MS = 300;
/** A try into a dead network is given up soon and made afresh; now and then one is given the time of a slow network. */
const TRY_MS = 600;
const PATIENT_TRY_MS = 3_000;
const PATIENT_EVERY = 6;

export interface SocketOptions {
  /** Where the server is; the page's own origin where it is left out. */
  readonly url?: string;
  /** For programs outside a browser, which keep their cookies themselves. */
  readonly headers?: Readonly<Record<string, string>>;
}

export const openSocket = ({ url, headers }: SocketOptions = {}): OpenWire => (listener) => {
  const options = {
    transports: ['websocket', 'polling'],
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
  let attempts = 0;
  socket.on('connect', () => { attempts = 0; });
  socket.on('connect_error', () => {
    attempts += 1;
    socket.io.timeout(attempts % PATIENT_EVERY === 0 ? PATIENT_TRY_MS : TRY_MS);
    listener.failed(attempts);
  });

  const connected = <T>(ask: () => Promise<T>): Promise<T> =>
    socket.connected ? ask() : Promise.reject(new Error('not connected'));

  return {
    join: (message, limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('join', message)),
    sample: (limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('sample')),
    command: (message, limitMs) => connected(() => socket.timeout(limitMs).emitWithAck('command', message)),
    again: () => {
      socket.disconnect();
      socket.connect();
    },
    close: () => {
      socket.off();
      socket.disconnect();
    },
  };
};
