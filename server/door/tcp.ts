/**
 * Owns how many TCP connections one address may hold and open, whatever is said on them: without
 * it one device could take every connection that this machine has. Leaves alone what a socket
 * above it may do (socket-door.ts).
 */
import type { Server } from 'node:net';
import type { Rate } from './bucket.ts';
import { isLoopback, openCrowd } from './crowd.ts';

export interface TcpLimits { readonly inAll: number; readonly perAddress: number; readonly comes: Rate }

/** @param nowMs milliseconds of a clock that does not go back */
export function limitTcp(server: Server, limits: TcpLimits, limitLoopback: boolean, nowMs: () => number): void {
  const crowd = openCrowd({ ...limits, free: (address) => !limitLoopback && isLoopback(address) });
  server.maxConnections = limits.inAll;
  server.prependListener('connection', (socket) => {
    const entry = crowd.enter(socket.remoteAddress ?? '', nowMs());
    if ('refused' in entry) socket.destroy();
    else socket.once('close', entry.leave);
  });
}
