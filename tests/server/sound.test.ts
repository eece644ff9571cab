/** Owns what server, screens and phone say of sound to each other, and the studio's music over HTTP, against the real server. */
import { mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { musicType } from '../../server/sound/music.ts';
import { serverAt } from '../../shared/time/units.ts';
import { controls } from '../../shared/view/controls.ts';
import type { Play } from '../../shared/wire/messages/sound.ts';
import { type Device, device, live, newFolder, pair, serve, sessionOf } from './serve.ts';

let server: Awaited<ReturnType<typeof serve>>;
let data = '';
let devices: Device[] = [];
const joined = async (...args: Parameters<typeof device>): Promise<Device> => {
  const made = device(...args);
  devices.push(made);
  await made.until(live, 'the link');
  return made;
};
const wav = (seconds: number): Buffer => {
  const bytes = Buffer.alloc(44 + seconds * 8_000);
  bytes.write('RIFF', 0);
  bytes.write('WAVEfmt ', 8);
  return bytes;
};
/** A request whose path is sent as it is written; fetch would tidy it. */
const raw = (path: string): Promise<number> => new Promise((resolve, reject) => {
  request({ host: '127.0.0.1', port: server.port, path }, (answer) => {
    answer.resume();
    resolve(answer.statusCode ?? 0);
  }).on('error', reject).end();
});

beforeEach(async () => {
  data = newFolder();
  mkdirSync(join(data, 'music', 'inner'), { recursive: true });
  writeFileSync(join(data, 'secret.wav'), wav(1));
  writeFileSync(join(data, 'music', '2 Second.wav'), wav(2));
  writeFileSync(join(data, 'music', '10 Tenth.wav'), wav(1));
  writeFileSync(join(data, 'music', 'page.mp3'), '<html><script>alert(1)</script>');
  writeFileSync(join(data, 'music', 'notes.txt'), 'not music');
  writeFileSync(join(data, 'music', 'inner', 'deep.wav'), wav(1));
  symlinkSync(join(data, 'secret.wav'), join(data, 'music', 'link.wav'));
  server = await serve(data);
});
afterEach(async () => {
  for (const d of devices) d.close();
  devices = [];
  await server.close();
});

describe('sound on the wire', () => {
  it('W60 the phone knows how many screens are heard, locked, silent or without sound, by connection; it goes with the connection', async () => {
    const one = await joined(server.url, 'screen');
    const two = await joined(server.url, 'screen');
    const phone = await joined(server.url, 'phone', await pair(server.url, one));
    expect(phone.room().about?.sound.screens).toEqual({ heard: 0, locked: 0, silent: 0, none: 0 });
    await one.room().sound({ do: 'hears', what: 'locked', name: 'one' });
    await two.room().sound({ do: 'hears', what: 'heard', name: 'two' });
    await phone.until((r) => r.about?.sound.screens.locked === 1 && r.about.sound.screens.heard === 1, 'one locked, one heard');
    await one.room().sound({ do: 'hears', what: 'heard', name: 'one' });
    await phone.until((r) => r.about?.sound.screens.heard === 2, 'both heard');
    one.close();
    await phone.until((r) => r.about?.sound.screens.heard === 1, 'one gone');
    // A phone says nothing of hearing, and a screen sets nothing.
    expect(await phone.room().sound({ do: 'hears', what: 'heard', name: 'phone' })).toHaveProperty('sentence');
    expect(await two.room().sound({ do: 'place', from: 'phone' })).toHaveProperty('sentence');
    expect(phone.room().about?.sound.screens.heard).toBe(1);
  });

  it('W61 a phone makes the screens sound one signal and is told how many can be heard; never while somebody works', async () => {
    const screen = await joined(server.url, 'screen');
    const phone = await joined(server.url, 'phone', await pair(server.url, screen));
    const heard: Play[] = [];
    screen.room().onPlay((play) => heard.push(play));
    expect(await phone.room().sound({ do: 'ring', kind: 'go' })).toEqual({ screens: 0 });
    await screen.room().sound({ do: 'hears', what: 'heard', name: 's' });
    expect(await phone.room().sound({ do: 'ring', kind: 'end' })).toEqual({ screens: 1 });
    await expect.poll(() => heard).toEqual([{ do: 'ring', kind: 'go' }, { do: 'ring', kind: 'end' }]);
    await phone.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null });
    await phone.until((r) => r.session !== null, 'the class');
    expect(await phone.room().sound({ do: 'ring', kind: 'end' })).toEqual({ screens: 1 });
    const { big } = controls(sessionOf(phone), phone.room().now() ?? serverAt(0));
    if (big?.type !== 'go') throw new Error('the welcome does not wait for go');
    expect(await phone.room().send(big)).toEqual({ done: true });
    expect(await phone.room().sound({ do: 'ring', kind: 'end' })).toHaveProperty('sentence');
    expect(heard).toHaveLength(3);
  });

  it('W62 of the screens that are heard the first plays the music; when it goes, the next', async () => {
    const one = await joined(server.url, 'screen');
    const two = await joined(server.url, 'screen');
    await one.room().sound({ do: 'hears', what: 'heard', name: 'one' });
    await two.room().sound({ do: 'hears', what: 'heard', name: 'two' });
    await two.until((r) => r.about?.sound.player === 'one', 'the first plays');
    await two.room().sound({ do: 'playing', title: 'not mine to say' });
    await one.room().sound({ do: 'playing', title: '2 Second' });
    await two.until((r) => r.about?.sound.playing === '2 Second', 'what it plays');
    one.close();
    await two.until((r) => r.about?.sound.player === 'two' && r.about.sound.playing === null, 'the second plays');
  });

  it('K60 what a room wants of its sound outlives the server, in no log; a damaged file is said and the rooms sound as usual', async () => {
    const screen = await joined(server.url, 'screen');
    const phone = await joined(server.url, 'phone', await pair(server.url, screen));
    await phone.room().sound({ do: 'place', from: 'both' });
    await phone.room().sound({ do: 'music', music: { on: true, volume: 3 } });
    const wants = { from: 'both', music: { on: true, order: 'shuffled', volume: 3, quietInShows: true } };
    await screen.until((r) => r.about?.sound.wants.music.volume === 3, 'the settings');
    await server.close();
    expect(JSON.parse(readFileSync(join(data, 'sound.json'), 'utf8'))).toEqual({ garden: wants });
    server = await serve(data);
    const again = await joined(server.url, 'screen');
    expect(again.room().about?.sound.wants).toEqual(wants);
    await server.close();
    writeFileSync(join(data, 'sound.json'), '{"garden":{"from":"the roof"}}');
    server = await serve(data);
    expect(server.warnings.join(' ')).toContain('sound.json');
    const usual = await joined(server.url, 'screen');
    expect(usual.room().about?.sound.wants.from).toBe('screen');
  });

  it('K61 only files of the music folder that are music are listed, in order; what is left out is said once', async () => {
    const list = async () => (await fetch(`${server.url}/api/music`)).json();
    expect(await list()).toEqual({ tracks: [{ file: '2 Second.wav', title: '2 Second' }, { file: '10 Tenth.wav', title: '10 Tenth' }] });
    await list();
    expect(server.warnings.filter((w) => w.includes('page.mp3'))).toHaveLength(1);
    expect(server.warnings.filter((w) => w.includes('link.wav'))).toHaveLength(1);
  });

  it('K62 a music file comes in the pieces that are asked for, as what it is; no other file comes at all', async () => {
    const whole = await fetch(`${server.url}/music/${encodeURIComponent('2 Second.wav')}`);
    expect([whole.status, whole.headers.get('content-type'), whole.headers.get('accept-ranges'), whole.headers.get('x-content-type-options')])
      .toEqual([200, 'audio/wav', 'bytes', 'nosniff']);
    const piece = await fetch(`${server.url}/music/2%20Second.wav`, { headers: { range: 'bytes=4-11' } });
    expect([piece.status, piece.headers.get('content-range'), (await piece.arrayBuffer()).byteLength]).toEqual([206, 'bytes 4-11/16044', 8]);
    expect((await fetch(`${server.url}/music/2%20Second.wav`, { headers: { range: 'bytes=99999-' } })).status).toBe(416);
    for (const path of ['/music/../secret.wav', '/music/..%2fsecret.wav', '/music/%2e%2e/secret.wav', '/music/..%5csecret.wav', '/music/link.wav', '/music/page.mp3',
      '/music/notes.txt', '/music/inner%2fdeep.wav', '/music/', '/music/%00', '/music/2%20Second.wav%00.txt']) {
      expect([path, await raw(path)]).not.toEqual([path, 200]);
    }
  });

  it('K61 the five kinds are told by their beginnings', () => {
    const type = (...parts: (string | number)[]) => musicType(Buffer.concat(parts.map((p) => (typeof p === 'string' ? Buffer.from(p) : Buffer.from([p])))));
    expect([type('ID3'), type(0xff, 0xfb), type(0, 0, 0, 32, 'ftypM4A '), type('OggS'), type('fLaC'), type('RIFF', 0, 0, 0, 0, 'WAVE')])
      .toEqual(['audio/mpeg', 'audio/mpeg', 'audio/mp4', 'audio/ogg', 'audio/flac', 'audio/wav']);
    // AAC in ADTS, an AVI, a page, nothing.
    expect([type(0xff, 0xf1), type('RIFF', 0, 0, 0, 0, 'AVI '), type('<html>'), type('')]).toEqual([null, null, null, null]);
  });
});
