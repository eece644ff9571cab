/**
 * Owns who may hold a socket, and how much it may say: only pages of this server, so many
 * connections, so many messages a second, and nobody who does not read. Leaves alone what a
 * message means. Limits are of shared/limits.ts.
 */
import type { IncomingMessage } from 'node:http';
import type { TLSSocket } from 'node:tls';
import type { Server, Socket } from 'socket.io';
import {
  ADDRESS_COMES, CONNECTIONS_MAX, CONNECTIONS_PER_ADDRESS_MAX, CUT_OFF_WAIT_MS, FLOOD_MESSAGES, JOINS_RATE, MESSAGES_RATE, UNREAD_MAX, UNREAD_MOST_BYTES,
} from '../../shared/limits.ts';
import { refuse } from '../../shared/session/refusal.ts';
import { Bucket } from './bucket.ts';
import { isLoopback, openCrowd } from './crowd.ts';
import { type Known, sameOrigin } from './names.ts';

export interface SocketDoor {
  /** For engine.io: whether a handshake, or a request of one that is in, is let through. */
  readonly allow: (request: IncomingMessage) => boolean;
  /** Watches the connections of a server from now on. */
  readonly watch: (io: Server) => void;
}

/** Whether so much waits for a device that it cannot be reading; a studio's whole class is a hundredth of it. */
export const unread = (waiting: readonly { readonly data?: string }[]): boolean =>
  waiting.length > UNREAD_MAX || waiting.reduce((sum, { data }) => sum + (data?.length ?? 0), 0) > UNREAD_MOST_BYTES;
const isSecure = ({ socket }: IncomingMessage): boolean => (socket as TLSSocket).encrypted === true;
const addressIn = (request: IncomingMessage): string => request.socket.remoteAddress ?? '';

/**
 * @param limitLoopback whether this machine itself is limited like any other
 * @param nowMs milliseconds of a clock that does not go back
 */
export function socketDoor(known: Known, limitLoopback: boolean, warn: (sentence: string) => void, nowMs: () => number): SocketDoor {
  const crowd = openCrowd({
    inAll: CONNECTIONS_MAX, perAddress: CONNECTIONS_PER_ADDRESS_MAX, comes: ADDRESS_COMES,
    free: (address) => !limitLoopback && isLoopback(address),
  });
  /** Handshakes that were let in and have become no connection yet. */
  const entered = new WeakMap<IncomingMessage, () => void>();

  function cutOff(conn: Socket['conn'], why: string): void {
    if (conn.readyState !== 'open') return;
    warn(`a device at ${conn.remoteAddress} ${why}: it was cut off`);
    conn.close(true);
    // One that does not read does not answer a goodbye either, and would hold what waits for it.
    conn.request.socket.destroy();
  }

  /** Who sends so much is up to no good, and would come back at once; who reads slowly may come back. */
  function turnOut(conn: Socket['conn'], why: string): void {
    cutOff(conn, why);
    crowd.keepOut(conn.remoteAddress, nowMs(), CUT_OFF_WAIT_MS);
  }

  function limitMessages(device: Pick<Socket, 'use' | 'conn'>): void {
    const bucket = new Bucket(MESSAGES_RATE, nowMs());
    const joins = new Bucket(JOINS_RATE, nowMs());
    let over = 0;
    device.use((packet, next) => {
      if (packet[0] === 'join' && !joins.take(nowMs())) {
        turnOut(device.conn, 'asked for the class again and again');
        return;
      }
      if (bucket.take(nowMs())) return next();
      over += 1;
      if (over >= FLOOD_MESSAGES) {
        turnOut(device.conn, 'sent far too many messages');
        return;
      }
      const reply: unknown = packet.at(-1);
      if (typeof reply === 'function') reply({ ...refuse('busy'), snapshot: null });
    });
  }

  return {
    allow(request) {
      if (!known(request.headers.host) || !sameOrigin(request.headers.origin, request.headers.host, isSecure(request))) return false;
      // One that is in already carries its number.
      if (new URL(request.url ?? '/', 'http://here').searchParams.has('sid')) return true;
      const entry = crowd.enter(addressIn(request), nowMs());
      if ('refused' in entry) return false;
      entered.set(request, entry.leave);
      request.socket.once('close', () => { entered.get(request)?.(); });
      return true;
    },
    watch(io) {
      io.engine.on('connection', (conn: Socket['conn']) => {
        const leave = entered.get(conn.request);
        entered.delete(conn.request);
        if (leave) conn.once('close', leave);
        // What a device does not read piles up here.
        conn.on('packetCreate', () => {
          if (unread((conn as unknown as { writeBuffer: { data?: string }[] }).writeBuffer)) cutOff(conn, 'does not read what it is sent');
        });
      });
      io.on('connection', limitMessages);
    },
  };
}
