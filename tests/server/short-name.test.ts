/** Asks for the server's short name as another device of the network would (npm multicast-dns as the asker; RFC 6762). */
import { createSocket } from 'node:dgram';
import makeMdns, { type MulticastDNS } from 'multicast-dns';
import { afterEach, expect, it, type TestContext, vi } from 'vitest';
import { withShortName } from '../../server/address.ts';
import { knownNames } from '../../server/door/names.ts';
import { readSettings } from '../../server/settings.ts';
import { answerTo, claim, isLoopback, reachedAt } from '../../server/short-name.ts';

const GROUP = '224.0.0.251';
const NAME = 'hallclock.local';
const SOON = { timeout: 30_000, interval: 50 };

/** A port of its own, so that nobody else in the network answers or is disturbed; null where multicast neither goes out nor comes in. */
const multicastPort = (): Promise<number | null> => new Promise((resolve) => {
  const socket = createSocket({ type: 'udp4', reuseAddr: true });
  const done = (port: number | null) => {
    clearTimeout(limit);
    socket.close();
    resolve(port);
  };
  const limit = setTimeout(() => done(null), 3_000);
  socket.on('error', () => done(null));
  socket.on('message', () => done(socket.address().port));
  socket.bind(0, () => {
    try {
      socket.addMembership(GROUP, '127.0.0.1');
      socket.setMulticastInterface('127.0.0.1');
      socket.setMulticastLoopback(true);
      socket.send('here', socket.address().port, GROUP);
    } catch {
      done(null);
    }
  });
});
/** Bound to the group, since a socket that is bound to an address of the machine hears none of it. */
const at = (port: number) => ({ port, interface: '127.0.0.1', bind: '0.0.0.0' });

const ends: (() => unknown)[] = [];
afterEach(async () => { for (const end of ends.splice(0).reverse()) await end(); });

/** The way to this machine's own multicast; leaves the test out, with the reason, where there is none. */
async function link(test: TestContext): Promise<ReturnType<typeof at>> {
  const port = await multicastPort();
  if (port === null) {
    process.stderr.write('not run: this machine has no multicast on its loopback\n');
    return test.skip();
  }
  return at(port);
}
const asker = (where: ReturnType<typeof at>): MulticastDNS => {
  const mdns = makeMdns(where);
  ends.push(() => mdns.destroy());
  return mdns;
};
function server(where: ReturnType<typeof at>, addresses: readonly string[]) {
  const warned: string[] = [];
  let changes = 0;
  const named = answerTo(NAME, { addresses: () => addresses, warn: (s) => warned.push(s), changed: () => { changes += 1; } }, where);
  ends.push(named.close);
  return { named, warned, changes: () => changes };
}

it('V460 the short name is asked for, taken and answered for by multicast DNS, in any letters; no other name is, and at the end it is given back', async (test) => {
  const where = await link(test);
  const other = asker(where);
  const heard: { name: string; type: string; data: unknown; ttl: number | undefined; flush: boolean | undefined }[] = [];
  let probes = 0;
  other.on('query', ({ questions = [], authorities = [] }) => {
    if (questions.some((q) => q.name === NAME && (q.type as string) === 'ANY') && authorities.some((a) => a.type === 'A' && a.data === '192.0.2.7')) probes += 1;
  });
  other.on('response', ({ answers = [], additionals = [] }) => {
    for (const a of [...answers, ...additionals]) heard.push({ name: a.name, type: a.type, data: 'data' in a ? a.data : null, ttl: 'ttl' in a ? a.ttl : undefined, flush: 'flush' in a ? a.flush : undefined });
  });
  await new Promise<void>((resolve) => { other.on('ready', resolve); });
  const { named, warned, changes } = server(where, ['192.0.2.7']);
  await vi.waitFor(() => expect(named.ours()).toBe(true), SOON);
  // Three times before it is taken (section 8.1), then told twice (section 8.3).
  expect(probes).toBeGreaterThanOrEqual(3);
  expect(changes()).toBe(1);
  await vi.waitFor(() => expect(heard.filter((r) => r.type === 'A').length).toBeGreaterThanOrEqual(2), SOON);
  heard.length = 0;
  const ask = (name: string, type: 'A' | 'AAAA') => other.query({ questions: [{ name, type }] });
  ask('another.local', 'A');
  await vi.waitFor(() => {
    ask('HallClock.LOCAL', 'A');
    // 120 s for an address of a host (section 10), and that it replaces what was remembered (section 10.2).
    expect(heard).toContainEqual({ name: NAME, type: 'A', data: '192.0.2.7', ttl: 120, flush: true });
  }, { timeout: 30_000, interval: 400 });
  // Who asks for the other kind of address hears that there is none (section 6.1).
  expect(heard).toContainEqual({ name: NAME, type: 'NSEC', data: { nextDomain: NAME, rrtypes: ['A'] }, ttl: 120, flush: true });
  expect(new Set(heard.map((r) => r.name))).toEqual(new Set([NAME]));
  expect(warned).toEqual([]);
  await named.close();
  await vi.waitFor(() => expect(heard).toContainEqual({ name: NAME, type: 'A', data: '192.0.2.7', ttl: 0, flush: true }), SOON);
});

it('V461 a name that another device has is left to it and the studio is told once; of two that ask at once the higher address has it (RFC 6762 sections 8 and 9)', async (test) => {
  const where = await link(test);
  const [low, high] = [server(where, ['192.0.2.7']), server(where, ['192.0.2.9'])];
  await vi.waitFor(() => expect([high.named.ours(), low.warned.length]).toEqual([true, 1]), SOON);
  expect(low.named.ours()).toBe(false);
  expect(low.warned[0]).toBe(`Another device in this network (192.0.2.9) has the name ${NAME}. Screens and phones find this server by its address. Give it another name with HALLCLOCK_SHORT_NAME, or the other device.`);
  // A third one says that it has the name, and goes on saying so: the one that had it asks again, and gives way.
  const third = asker(where);
  const says = () => third.respond([{ name: NAME, type: 'A', ttl: 120, flush: true, data: '192.0.2.200' }]);
  third.on('query', ({ questions = [] }) => { if (questions.some((q) => q.name === NAME)) says(); });
  await vi.waitFor(() => {
    if (high.warned.length === 0) says();
    expect([high.named.ours(), high.warned.length]).toEqual([false, 1]);
  }, { timeout: 30_000, interval: 500 });
  expect(high.warned[0]).toContain('192.0.2.200');
  // RFC 6762 section 8.2.1, its own example: 169.254.200.50 is later than 169.254.99.200.
  expect(claim(['169.254.200.50'], ['169.254.99.200'])).toBeGreaterThan(0);
  expect(claim(['10.0.0.1'], ['10.0.0.1'])).toBe(0);
  expect(claim(['10.0.0.1'], ['10.0.0.2', '10.0.0.1'])).toBeLessThan(0);
});

it('V462 where multicast is not possible the server says so once and goes on; the name is one of its own, can be another, and can be none', async () => {
  const warned: string[] = [];
  const named = answerTo(NAME, { addresses: () => ['192.0.2.7'], warn: (s) => warned.push(s), changed: () => undefined }, { port: 1, bind: '192.0.2.1', interface: '192.0.2.1' });
  ends.push(named.close);
  await vi.waitFor(() => expect(warned).toHaveLength(1), SOON);
  expect(warned[0]).toMatch(/^The name hallclock\.local cannot be answered for here \(.+\)\. The address works all the same\.$/);
  expect(named.ours()).toBe(false);
  const of = (name: string) => {
    const read = readSettings({ HALLCLOCK_SHORT_NAME: name });
    return 'wrong' in read ? read.wrong[0] : [read.shortName, knownNames(read.names, 'box')(`${read.shortName ?? 'quince.local'}:8080`)];
  };
  expect(of('Quince')).toEqual(['quince.local', true]);
  expect(of('quince.local')).toEqual(['quince.local', true]);
  expect(of('no')).toEqual([null, false]);
  expect(of('quince yard')).toMatch(/one word/);
  expect(['127.0.0.1', 'localhost', '0.0.0.0', '192.168.1.4'].map(isLoopback)).toEqual([true, true, false, false]);
  expect(reachedAt('192.0.2.99')).toEqual([]);
});

it('V463 the short address is told beside the other one: with its port, under a certificate of the server\'s own, and not beside a name that somebody vouches for', () => {
  const plain = { origin: 'http://192.168.1.20:8080', typed: '192.168.1.20:8080' };
  expect(withShortName(plain, NAME, null)).toEqual({ ...plain, short: 'hallclock.local:8080' });
  expect(withShortName(plain, null, null)).toEqual(plain);
  expect(withShortName({ origin: 'http://192.168.1.20', typed: '192.168.1.20' }, NAME, null).short).toBe('hallclock.local');
  const secure = { origin: 'https://192.168.1.20', typed: 'https://192.168.1.20' };
  expect(withShortName(secure, NAME, { own: true }).short).toBe('https://hallclock.local');
  expect(withShortName(secure, NAME, { own: false })).toEqual(secure);
});
