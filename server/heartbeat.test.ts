/** Holds the beat to a real socket: the library must go on to take these pings for its own. */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Server } from 'socket.io';
import { io as connect } from 'socket.io-client';
import { afterEach, expect, it, vi } from 'vitest';
import { beat } from './heartbeat.ts';

const open: (() => unknown)[] = [];
afterEach(async () => { for (const close of open.splice(0).reverse()) await close(); });

it('K43 connections are pinged together, which puts the library\'s own pings off; one that says nothing is dropped', async () => {
  const http = createServer();
  // The library's own ping would come after 600 ms, and 300 ms later the end.
  const io = new Server(http, { pingInterval: 600, pingTimeout: 300 });
  open.push(() => io.close(), beat(io, 300));
  await new Promise<void>((resolve) => { http.listen(0, '127.0.0.1', resolve); });
  const pings: number[] = [];
  const came = await Promise.all([1, 2].map(() => new Promise<ReturnType<typeof connect>>((resolve) => {
    const socket = connect(`http://127.0.0.1:${(http.address() as AddressInfo).port}`, { transports: ['websocket'], forceNew: true, reconnection: false });
    open.push(() => socket.disconnect());
    socket.on('connect', () => resolve(socket));
  })));
  const [alive, silent] = came;
  if (!alive || !silent) throw new Error('not connected');
  alive.io.on('ping', () => pings.push(performance.now()));
  // It goes on to listen, and answers no ping.
  silent.io.engine.transport.send = () => {};
  const end = vi.fn();
  io.sockets.sockets.get(silent.id ?? '')?.on('disconnect', end);
  await new Promise((resolve) => { setTimeout(resolve, 2_000); });
  expect(pings.length).toBeGreaterThanOrEqual(5);
  expect(pings.length).toBeLessThanOrEqual(7);
  expect(alive.connected).toBe(true);
  expect(end).toHaveBeenCalledWith('ping timeout', undefined);
});

it('K43 very many are pinged in parts, each once in a beat', () => {
  vi.useFakeTimers();
  open.push(() => vi.useRealTimers());
  const send = vi.fn();
  const one = { conn: { readyState: 'open', transport: { name: 'websocket', writable: true, send } } };
  const sockets = new Map(Array.from({ length: 2_000 }, (_, k) => [String(k), one]));
  open.push(beat({ sockets: { sockets } } as unknown as Server, 15_000));
  vi.advanceTimersByTime(15_000);
  expect(send.mock.calls.length).toBeLessThan(100);
  vi.advanceTimersByTime(14_900);
  expect(send).toHaveBeenCalledTimes(2_000);
  vi.advanceTimersByTime(15_000);
  expect(send).toHaveBeenCalledTimes(4_000);
});
