/** Owns https as a real server speaks it: a certificate of its own, one that was given, and what is done with plain HTTP on the same port. */
import { X509Certificate } from 'node:crypto';
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { request as askPlain } from 'node:http';
import { connect } from 'node:net';
import { join } from 'node:path';
import { type PeerCertificate, connect as connectTls } from 'node:tls';
import selfsigned from 'selfsigned';
import { io } from 'socket.io-client';
import request from 'supertest';
import { afterEach, beforeAll, expect, it } from 'vitest';
import { addressOf } from '../../server/address.ts';
import { knownNames } from '../../server/door/names.ts';
import { readSettings } from '../../server/settings.ts';
import { DAY_MS } from '../../server/tls/certificate.ts';
import { keepCertificate, openCertificate } from '../../server/tls/choose.ts';
import { secureServer } from '../../server/tls/front.ts';
import { givenCertificate } from '../../server/tls/given.ts';
import { ownCertificate } from '../../server/tls/own.ts';
import { PROTOCOL } from '../../shared/wire/protocol.ts';
import { device, live, newFolder, serve } from './serve.ts';

const ends: (() => unknown)[] = [];
afterEach(async () => { for (const end of ends.splice(0)) await end(); });

const NOW = Date.UTC(2026, 10, 25);
const served = async (env: Record<string, string>, data = newFolder()) => {
  const server = await serve(data, { HALLCLOCK_PASSWORD: 'quince-and-thyme', ...env });
  ends.push(() => server.close());
  return { ...server, data, url: `https://127.0.0.1:${server.port}`, ca: server.certificate?.cert ?? '' };
};

/** What somebody says on the server's port without TLS, and what comes back. */
const plainly = (port: number, method: string, path: string, host = `127.0.0.1:${port}`) => new Promise<{ status: number; to: string | undefined; text: string }>((resolve, reject) => {
  const asked = askPlain({ host: '127.0.0.1', port, method, path, headers: { host } }, (answer) => {
    let text = '';
    answer.on('data', (piece) => { text += String(piece); });
    answer.on('end', () => resolve({ status: answer.statusCode ?? 0, to: answer.headers.location, text }));
  });
  asked.on('error', reject);
  asked.end();
});

/** A certificate that somebody vouches for, as a studio might be given one. */
const files = newFolder();
const file = (name: string) => join(files, name);
beforeAll(async () => {
  const extensions = (names: readonly string[]) => [{ name: 'subjectAltName' as const, altNames: names.map((value) => ({ type: 2 as const, value })) }];
  const ca = await selfsigned.generate([{ name: 'commonName', value: 'Somebody' }], { keyType: 'ec', algorithm: 'sha256', extensions: [{ name: 'basicConstraints', cA: true, critical: true }] });
  const of = (names: readonly string[], from: number, until: number, algorithm = 'sha256') => selfsigned.generate([{ name: 'commonName', value: names[0] ?? '' }], {
    keyType: 'ec', algorithm, notBeforeDate: new Date(from), notAfterDate: new Date(until), extensions: extensions(names), ca: { cert: ca.cert, key: ca.private },
  });
  const good = await of(['clock.example', '*.studio.example'], NOW - DAY_MS, NOW + 3_650 * DAY_MS);
  const old = await of(['clock.example'], NOW - 90 * DAY_MS, NOW + 10 * DAY_MS);
  const other = await of(['clock.example'], NOW - DAY_MS, NOW + 90 * DAY_MS);
  const weak = await of(['clock.example'], NOW - DAY_MS, NOW + 90 * DAY_MS, 'sha1');
  for (const [name, text] of Object.entries({ weak: weak.cert, 'weak-key': weak.private, ca: ca.cert, cert: good.cert, key: good.private, old: old.cert, 'old-key': old.private, 'other-key': other.private, none: 'hello\n' })) writeFileSync(file(name), text);
});

it('R50 a certificate of its own is made for every name of the machine, kept where only its user may read it, and shown again after a restart', async () => {
  const first = await served({ HALLCLOCK_TLS: 'own', HALLCLOCK_NAMES: 'clock.example' });
  const x = new X509Certificate(first.ca);
  for (const name of ['localhost', 'hallclock.local', 'clock.example']) expect(x.checkHost(name), name).toBe(name);
  expect([x.checkIP('127.0.0.1'), x.ca, x.checkHost('elsewhere.example')]).toEqual(['127.0.0.1', false, undefined]);
  for (const name of ['cert.pem', 'key.pem']) expect(statSync(join(first.data, 'tls', name)).mode & 0o777).toBe(0o600);
  expect(statSync(join(first.data, 'access.json')).mode & 0o777).toBe(0o600);
  // Node trusts this certificate alone and looks at the name as a browser does.
  const shown = await new Promise<PeerCertificate>((resolve, reject) => {
    const socket = connectTls({ host: '127.0.0.1', port: first.port, ca: first.ca, servername: 'localhost' }, () => { resolve(socket.getPeerCertificate()); socket.destroy(); });
    socket.on('error', reject);
  });
  expect(shown.fingerprint256).toBe(first.certificate?.fingerprint);
  expect(first.address.origin).toMatch(/^https:\/\/[\w.]+:\d+$/);
  await first.close();
  ends.length = 0;
  const second = await served({ HALLCLOCK_TLS: 'own', HALLCLOCK_NAMES: 'clock.example' }, first.data);
  expect(second.certificate?.fingerprint).toBe(first.certificate?.fingerprint);
});

it('R50 under TLS a phone is paired and a class started as ever; cookies are for https only, and a certificate of our own promises nothing for next year', async () => {
  const server = await served({ HALLCLOCK_TLS: 'own' });
  const options = { transports: ['websocket'], reconnection: false, forceNew: true, ca: server.ca };
  const screen = io(server.url, options);
  ends.unshift(() => screen.close());
  const { snapshot } = (await screen.emitWithAck('join', { protocol: PROTOCOL, role: 'screen', room: 'garden' })) as { snapshot: { pairing: { code: string; url: string } } };
  expect(snapshot.pairing.url).toBe(`${server.address.origin}/phone?code=${snapshot.pairing.code}`);
  const paired = await request(server.url).post('/api/pair').ca(server.ca).set('Origin', server.url).send({ code: snapshot.pairing.code }).expect(200);
  const came = await request(server.url).post('/api/desk/in').ca(server.ca).send({ password: 'quince-and-thyme' }).expect(200);
  for (const answer of [paired, came]) expect(String(answer.headers['set-cookie'])).toMatch(/^__Host-hallclock(-desk)?=[\w-]{22};.* Path=\/;.*; HttpOnly; Secure; SameSite/);
  expect(paired.headers['strict-transport-security']).toBeUndefined();
  const phone = io(server.url, { ...options, extraHeaders: { cookie: String(paired.headers['set-cookie']).split(';')[0] ?? '', origin: server.url } });
  ends.unshift(() => phone.close());
  expect(await phone.emitWithAck('join', { protocol: PROTOCOL, role: 'phone', room: 'garden' })).toHaveProperty('snapshot');
  const started = await phone.emitWithAck('command', { id: crypto.randomUUID(), session: null, saidAt: null, command: { type: 'start', plan: 'quarter-hour', freeAt: null } });
  expect(started).not.toHaveProperty('refused');
});

it('R51 plain HTTP on the same port is sent on to https and gets nothing else; a write is refused undone; a page that came in the clear is another site', async () => {
  const server = await served({ HALLCLOCK_TLS: 'own' });
  const { port } = server;
  expect(await plainly(port, 'GET', '/screen/garden?x=1')).toMatchObject({ status: 307, to: `https://127.0.0.1:${port}/screen/garden?x=1` });
  expect(await plainly(port, 'GET', '//elsewhere.example/')).toMatchObject({ status: 307, to: `https://127.0.0.1:${port}//elsewhere.example/` });
  expect(await plainly(port, 'GET', 'http://elsewhere.example/')).toMatchObject({ status: 307, to: `https://127.0.0.1:${port}/` });
  expect(await plainly(port, 'GET', '/', 'elsewhere.example')).toMatchObject({ status: 421, to: undefined, text: expect.stringContaining('not called "elsewhere.example"') });
  expect(await plainly(port, 'POST', '/api/desk/in')).toMatchObject({ status: 426, text: expect.stringMatching(/https only, and nothing was done/) });
  const clear = `http://127.0.0.1:${port}`;
  await request(server.url).post('/api/pair').ca(server.ca).set('Origin', clear).send({ code: '000000' }).expect(403, /another site/);
  const foreign = io(server.url, { transports: ['websocket'], reconnection: false, forceNew: true, ca: server.ca, extraHeaders: { origin: clear } });
  expect(await new Promise((resolve) => { foreign.on('connect', () => resolve('in')); foreign.on('connect_error', () => resolve('out')); })).toBe('out');
});

it('R51 without a certificate all is as it was: plain HTTP, cookies that it can carry', async () => {
  const server = await serve(newFolder(), { HALLCLOCK_PASSWORD: 'quince-and-thyme' });
  ends.push(() => server.close());
  const screen = device(server.url, 'screen');
  await screen.until(live, 'the screen');
  screen.close();
  const came = await request(server.url).post('/api/desk/in').send({ password: 'quince-and-thyme' }).expect(200);
  expect([String(came.headers['set-cookie']).includes('Secure'), came.headers['strict-transport-security'], server.address.origin.slice(0, 7)]).toEqual([false, undefined, 'http://']);
});

it('R51 whoever says nothing on the port, or half a request in the clear, is let go', async () => {
  const cert = await ownCertificate(newFolder(), [], NOW, () => {}, ['127.0.0.1']);
  const secure = secureServer(cert, { headersTimeout: 150, requestTimeout: 150 }, knownNames([]), (_request, response) => { response.end('in'); });
  await new Promise<void>((resolve) => { secure.listen(0, '127.0.0.1', resolve); });
  ends.push(() => { secure.closeAllConnections(); secure.close(); });
  const at = secure.address();
  const port = at !== null && typeof at === 'object' ? at.port : 0;
  for (const said of ['', 'GET / HT', '\x16\x03\x01']) {
    const socket = connect(port, '127.0.0.1', () => { if (said !== '') socket.write(said, 'latin1'); });
    socket.on('error', () => {});
    socket.resume();
    await new Promise((resolve) => { socket.once('close', resolve); });
  }
  expect((await request(`https://127.0.0.1:${port}`).get('/').ca(cert.cert)).text).toBe('in');
});

it('R52 its own certificate is made anew before it ends, for another name or address, and where it is damaged; that is said', async () => {
  const data = newFolder();
  const warned: string[] = [];
  const at = (days: number, names: string[] = [], addresses = ['127.0.0.1']) => ownCertificate(data, names, NOW + days * DAY_MS, (w) => { warned.push(w); }, addresses);
  const first = await at(0);
  expect([(await at(300)).fingerprint, warned.length]).toEqual([first.fingerprint, 0]);
  const renewed = await at(368);
  expect([renewed.fingerprint === first.fingerprint, warned.length]).toEqual([false, 1]);
  expect(renewed.untilMs).toBe(NOW + (368 + 397) * DAY_MS);
  const moved = await at(369, ['clock.example'], ['127.0.0.1', '192.168.1.20']);
  expect([new X509Certificate(moved.cert).checkIP('192.168.1.20'), warned.length]).toEqual(['192.168.1.20', 2]);
  writeFileSync(join(data, 'tls', 'key.pem'), readFileSync(join(data, 'tls', 'key.pem'), 'utf8').slice(0, 80));
  expect([(await at(370, ['clock.example'], ['127.0.0.1', '192.168.1.20'])).fingerprint === moved.fingerprint, warned.length]).toEqual([false, 3]);
  expect(warned[2]).toContain('Every device has to accept it once more');
});

it('R52 a certificate that was given is shown with its name on the screen, and read again when its files are new, without a restart', async () => {
  const env = { HALLCLOCK_TLS_CERT: file('cert'), HALLCLOCK_TLS_KEY: file('key'), HALLCLOCK_NAMES: 'hall.studio.example' };
  const server = await served(env);
  expect(server.certificate?.names).toEqual(['clock.example', 'hall.studio.example']);
  expect(server.address).toEqual({ origin: `https://clock.example:${server.port}`, typed: `clock.example:${server.port}` });
  expect(addressOf(443, { own: false, names: ['clock.example'] })).toEqual({ origin: 'https://clock.example', typed: 'https://clock.example' });
  const answer = await request(server.url).get('/api/health').ca(readFileSync(file('ca'))).disableTLSCerts().set('Host', 'clock.example').expect(200);
  expect(answer.headers['strict-transport-security']).toBe('max-age=31536000');
  expect(existsSync(join(server.data, 'tls'))).toBe(false);

  const settings = readSettings({ HALLCLOCK_DATA: newFolder(), ...env, HALLCLOCK_TLS_CERT: file('now'), HALLCLOCK_TLS_KEY: file('now-key') });
  if ('wrong' in settings) throw new Error(settings.wrong.join());
  const put = (cert: string, key: string) => { writeFileSync(file('now'), readFileSync(file(cert))); writeFileSync(file('now-key'), readFileSync(file(key))); };
  put('old', 'old-key');
  const first = await openCertificate(settings, NOW, () => {});
  if (!first) throw new Error('no certificate');
  put('cert', 'key');
  const days: (() => void)[] = [];
  const real = globalThis.setInterval;
  globalThis.setInterval = ((run: () => void) => { days.push(run); return real(() => {}, 1e9); }) as typeof setInterval;
  const renewed = new Promise<string>((resolve) => { ends.push(keepCertificate(settings, first, () => NOW, () => {}, (next) => resolve(next.fingerprint))); });
  globalThis.setInterval = real;
  days[0]?.();
  expect(await renewed).toBe(server.certificate?.fingerprint);
});

it('R53 a certificate that cannot be used is explained with its setting, its file and what to do, and nothing is started', async () => {
  const warned: string[] = [];
  const given = (cert: string, key: string, nowMs = NOW) => givenCertificate(file(cert), file(key), nowMs, (w) => { warned.push(w); });
  await expect(given('absent', 'key')).rejects.toThrow(`HALLCLOCK_TLS_CERT is "${file('absent')}": there is no such file.`);
  await expect(given('none', 'key')).rejects.toThrow(/HALLCLOCK_TLS_CERT is ".*none": it holds no certificate.*BEGIN CERTIFICATE/);
  await expect(given('cert', 'none')).rejects.toThrow(/HALLCLOCK_TLS_KEY is ".*none": it holds no key/);
  await expect(given('cert', 'other-key')).rejects.toThrow(/it is the key of another certificate/);
  await expect(given('weak', 'weak-key')).rejects.toThrow(/it cannot be shown \(.*weak\)\. Have one made with SHA-256/);
  await expect(serve(newFolder(), { HALLCLOCK_TLS_CERT: file('cert'), HALLCLOCK_TLS_KEY: file('other-key') })).rejects.toThrow(/another certificate/);
  // A class matters more than a date: one that ends is shown, and said.
  await given('cert', 'key');
  expect(warned).toEqual([]);
  await given('old', 'old-key');
  await given('old', 'old-key', NOW + 11 * DAY_MS);
  await given('cert', 'key', NOW - 2 * DAY_MS);
  expect(warned).toEqual([expect.stringContaining('ends on 2026-12-05'), expect.stringContaining('ended on 2026-12-05'), expect.stringContaining('begins on 2026-11-24')]);
  for (const [env, sentence] of [
    [{ HALLCLOCK_TLS: 'yes' }, /HALLCLOCK_TLS is "yes": it is no, or own/],
    [{ HALLCLOCK_TLS_CERT: 'a' }, /HALLCLOCK_TLS_KEY is missing/],
    [{ HALLCLOCK_TLS_KEY: 'a' }, /HALLCLOCK_TLS_CERT is missing/],
    [{ HALLCLOCK_TLS: 'own', HALLCLOCK_TLS_CERT: 'a', HALLCLOCK_TLS_KEY: 'b' }, /leave it out/],
  ] as const) expect(readSettings(env)).toEqual({ wrong: [expect.stringMatching(sentence)] });
});
