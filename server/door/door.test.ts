/** Owns the names, the rates and the crowd at the door, on handed-in time. */
import { describe, expect, it } from 'vitest';
import { Bucket } from './bucket.ts';
import { isLoopback, openCrowd } from './crowd.ts';
import { REQUESTS_RATE, UNREAD_MAX, UNREAD_MOST_BYTES } from '../../shared/limits.ts';
import { knownNames, nameIn, sameOrigin } from './names.ts';
import { limitRequests } from './requests.ts';
import { unread } from './socket-door.ts';

describe('names', () => {
  const known = knownNames(['clock.example'], 'Front-Desk');
  it('R40 every address is let in, and the names of this machine and of the studio', () => {
    for (const host of ['192.168.1.20:8080', '[fd00::1]:8080', '127.0.0.1', 'localhost:8080', 'front-desk', 'front-desk.local:8080', 'hallclock.local', 'Clock.Example', 'clock.example.:443']) {
      expect(known(host), host).toBe(true);
    }
  });
  it('R40 a name that another site leads here is not', () => {
    for (const host of ['evil.example', 'localhost.evil.example', '192.168.1.20.evil.example', 'clock.example@evil.example', '', undefined, 'a b', 'evil.example/localhost', '127.0.0.1.']) {
      expect(known(host), String(host)).toBe(host === '127.0.0.1.');
    }
    expect(nameIn('[::1]:80')).toBe('::1');
  });
  it('R6 an origin is the same only where host and port are', () => {
    expect(sameOrigin('http://192.168.1.20:8080', '192.168.1.20:8080')).toBe(true);
    expect(sameOrigin(undefined, '192.168.1.20:8080')).toBe(true);
    expect([sameOrigin('http://a.local', 'a.local', true), sameOrigin('https://a.local', 'a.local', true)]).toEqual([false, true]);
    for (const origin of ['http://192.168.1.20', 'http://evil.example', 'null', '']) expect(sameOrigin(origin, '192.168.1.20:8080'), origin).toBe(false);
  });
});

describe('rates', () => {
  it('R41 a burst is free, then so many a second; what was refused costs nothing', () => {
    const bucket = new Bucket({ perSecond: 10, burst: 3 }, 0);
    expect([bucket.take(0), bucket.take(0), bucket.take(0), bucket.take(0), bucket.take(99), bucket.take(100)]).toEqual([true, true, true, false, false, true]);
    expect([bucket.full(399), bucket.full(400)]).toEqual([false, true]);
    // A clock that stands or goes back gives nothing away.
    expect([bucket.take(400), bucket.take(300), bucket.take(300), bucket.take(300)]).toEqual([true, true, true, false]);
  });

  const crowd = () => openCrowd({ inAll: 5, perAddress: 3, comes: { perSecond: 1, burst: 4 }, free: isLoopback });
  const enter = (c: ReturnType<typeof crowd>, address: string, at = 0) => {
    const entry = c.enter(address, at);
    return 'leave' in entry ? entry : entry.refused;
  };
  it('R41 so many connections of one address, and of all; who leaves twice leaves once', () => {
    const c = crowd();
    const [first] = [enter(c, 'a'), enter(c, 'a'), enter(c, 'a')];
    expect(enter(c, 'a')).toMatch(/3 connections open/);
    enter(c, 'b');
    enter(c, 'c');
    expect(enter(c, 'd')).toMatch(/as many connections as it can hold/);
    if (typeof first !== 'object') throw new Error('not in');
    first.leave();
    first.leave();
    expect(c.count()).toBe(4);
    expect(enter(c, 'd')).toMatchObject({ leave: expect.any(Function) });
    expect(enter(c, 'd')).toMatch(/as it can hold/);
  });
  it('R41 one address that comes and goes is told to wait; this machine is not', () => {
    const c = crowd();
    const comeAndGo = (address: string, at: number) => {
      const entry = c.enter(address, at);
      if ('leave' in entry) entry.leave();
      return 'leave' in entry;
    };
    expect([0, 0, 0, 0, 0, 999, 1_000].map((at) => comeAndGo('a', at))).toEqual([true, true, true, true, false, false, true]);
    expect(Array.from({ length: 50 }, () => comeAndGo('127.0.0.1', 0)).every(Boolean)).toBe(true);
    expect(['127.0.0.1', '::1', '::ffff:127.0.0.1', '10.0.0.1', '::ffff:10.0.0.1', ''].map(isLoopback)).toEqual([true, true, true, false, false, false]);
  });
  it('R54 an address that was cut off for sending too much is kept out for a while; who is in of it stays, and this machine is free', () => {
    const c = crowd();
    const first = enter(c, 'a');
    enter(c, '127.0.0.1');
    c.keepOut('a', 0, 10_000);
    c.keepOut('127.0.0.1', 0, 10_000);
    expect(enter(c, 'a', 9_999)).toMatch(/cut off\. Wait ten seconds/);
    expect([typeof enter(c, 'a', 10_000), typeof enter(c, 'b', 0), typeof enter(c, '127.0.0.1', 1), typeof first]).toEqual(['object', 'object', 'object', 'object']);
  });
  it('R56 what waits for one device is bounded in messages and in bytes', () => {
    expect([unread(Array.from({ length: UNREAD_MAX }, () => ({ data: 'x' }))), unread(Array.from({ length: UNREAD_MAX + 1 }, () => ({})))]).toEqual([false, true]);
    const half = { data: 'x'.repeat(UNREAD_MOST_BYTES / 2) };
    expect([unread([half, half]), unread([half, half, { data: 'x' }])]).toEqual([false, true]);
  });
  it('R59 one address asks so often and no more, and is told when to come again; others and, unless asked, this machine are free', () => {
    let now = 0;
    const asked = (address: string, limitLoopback = false, door = limitRequests(limitLoopback, () => now)) => (): number | undefined => {
      let status: number | undefined = 200;
      const response = { set: () => response, status: (s: number) => { status = s; return response; }, json: () => response };
      door({ socket: { remoteAddress: address } } as never, response as never, () => {});
      return status;
    };
    const a = asked('10.0.0.9');
    expect(Array.from({ length: REQUESTS_RATE.burst }, a).every((s) => s === 200)).toBe(true);
    expect(a()).toBe(429);
    now += 1_000;
    expect(Array.from({ length: REQUESTS_RATE.perSecond + 1 }, a).at(-1)).toBe(429);
    const [here, balancer] = [asked('127.0.0.1'), asked('127.0.0.1', true)];
    expect([Array.from({ length: REQUESTS_RATE.burst + 1 }, here).at(-1), Array.from({ length: REQUESTS_RATE.burst + 1 }, balancer).at(-1)]).toEqual([200, 429]);
  });
});
