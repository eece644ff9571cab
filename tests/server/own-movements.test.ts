/** Holds a studio's own movements against the real server: kept, shown, used in a class, and refused. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import request from 'supertest';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FILE_MOST_BYTES, PICTURE_MOST_BYTES } from '../../shared/limits.ts';
import { type Movement, movementSchema } from '../../shared/movement/movement.ts';
import { movementBodySchema, movementsSchema } from '../../shared/wire/http.ts';
import { device, live, newFolder, pair, serve, sessionOf } from './serve.ts';
import { jpeg, mp4, webm } from './small-files.ts';

let data = '';
let cookie = '';
let server: Awaited<ReturnType<typeof serve>>;
beforeEach(async () => {
  data = newFolder();
  server = await serve(data);
  const screen = device(server.url, 'screen');
  cookie = await pair(server.url, screen);
  screen.close();
});
afterEach(() => server.close());

const towelPull: Movement = movementSchema.parse({
  format: 1, id: 'towel-pull', name: 'Towel pull', otherNames: ['Towel row'], sides: 'each', start: 'standing', end: 'standing', impact: 'none', pattern: 'pull',
  areas: ['upper back'], suits: ['main'], tempoS: 3, leastS: 15, setUp: 'Stand on the towel.', action: 'Pull it up.', cues: ['Elbow back', 'Tall'],
  lookFor: ['Shrugging'], option: { words: 'Sit on a chair', movement: 'chair-march' }, build: { words: 'Slower' },
  phrases: { left: 'left arm pulls', right: 'right arm pulls' }, forNeeds: { knee: { words: 'As shown' } }, intensity: { code: '02024', met: 2.8 },
});
const post = (body: object, by: string = cookie) => request(server.url).post('/api/movements').set('cookie', by).send(body);
const put = (id: string, file: Buffer, type = 'application/octet-stream') =>
  request(server.url).put(`/api/movements/${id}/picture`).set('cookie', cookie).set('content-type', type).send(file);
const library = async () => movementsSchema.parse((await request(server.url).get('/api/movements')).body);

describe("a studio's own movement", () => {
  it('M31 comes back as it was sent, with its clip, after a restart too', async () => {
    expect(movementBodySchema.parse((await post(towelPull).expect(201)).body)).toEqual(towelPull);
    const shown = movementBodySchema.parse((await put('towel-pull', webm, 'image/png').expect(200)).body);
    expect(shown).toEqual({ ...towelPull, picture: { kind: 'clip', file: 'towel-pull.webm' } });
    const got = await request(server.url).get('/pictures/towel-pull.webm').expect(200).expect('content-type', 'video/webm');
    expect(webm.equals(got.body as Buffer)).toBe(true);
    await server.close();
    server = await serve(data);
    expect((await library()).movements.find((m) => m.id === 'towel-pull')).toEqual(shown);
  });

  it('M31 another picture takes the place of the first, which is gone', async () => {
    await post(towelPull).expect(201);
    await put('towel-pull', mp4).expect(200);
    await put('towel-pull', jpeg).expect(200);
    expect(readdirSync(join(data, 'media'))).toEqual(['towel-pull.jpg']);
    expect((await library()).movements.find((m) => m.id === 'towel-pull')?.picture).toEqual({ kind: 'picture', file: 'towel-pull.jpg' });
    await request(server.url).get('/pictures/towel-pull.mp4').expect(404);
  });

  it('M31 can be started in a plan like any other, from a form as well as from a file in the folder', async () => {
    await post(towelPull).expect(201);
    writeFileSync(join(data, 'movements', 'by-hand.json'), JSON.stringify({ ...towelPull, id: 'by-hand', name: 'By hand' }));
    mkdirSync(join(data, 'plans'));
    writeFileSync(join(data, 'plans', 'towels.json'), JSON.stringify({
      format: 1, id: 'towels', name: 'Towels', sections: [{ id: 'main', kind: 'main', show: 'none', work: 40, rest: 20, items: [{ movement: 'towel-pull' }, { movement: 'by-hand' }] }],
    }));
    const phone = device(server.url, 'phone', cookie);
    await phone.until(live, 'the phone');
    await phone.room().send({ type: 'start', plan: 'towels', freeAt: null });
    await phone.until((r) => r.session !== null, 'the class');
    const session = sessionOf(phone);
    expect(session.facts).toMatchObject({ 'towel-pull': { name: 'Towel pull', phrases: { right: 'right arm pulls' } }, 'by-hand': { name: 'By hand' } });
    expect(session.intervals.filter((i) => i.kind === 'work').map((i) => i.movement)).toEqual(expect.arrayContaining(['towel-pull', 'by-hand']));
    phone.close();
  });

  it('M31 one that cannot be kept is refused with a sentence, and nothing is written', async () => {
    const refused = async (body: object, status: number) => String((await post(body).expect(status)).body.error);
    expect(await refused({ ...towelPull, cues: ['One'] }, 400)).toMatch(/^This cannot be kept; at cues: /);
    expect(await refused({ ...towelPull, id: '../../evil' }, 400)).toContain('at id');
    expect(await refused({ ...towelPull, id: 'squat' }, 409)).toContain('There is a movement of that name already');
    expect(await refused({ ...towelPull, build: { words: 'Harder', movement: 'no-such' } }, 400)).toBe('There is no movement "no-such" to lead to. Choose another, or leave only the words.');
    expect(await refused({ ...towelPull, picture: { kind: 'clip', file: 'x.webm' } }, 400)).toContain('sent by itself');
    expect(await refused({ ...towelPull, action: 'x'.repeat(FILE_MOST_BYTES) }, 413)).toContain('too long to keep');
    expect(existsSync(join(data, 'movements'))).toBe(false);
    const twice = await Promise.all([post(towelPull), post(towelPull)]);
    expect(twice.map((r) => r.status).sort()).toEqual([201, 409]);
  });

  it('M30 a file that is no picture is refused whatever it is called, and the movement stays as it was', async () => {
    await post(towelPull).expect(201);
    const page = Buffer.from('<script>alert(1)</script>');
    expect((await put('towel-pull', page, 'image/png').expect(415)).body.error).toContain('none that a screen can show');
    expect((await put('towel-pull', Buffer.alloc(0)).expect(415)).body.error).toBe('The file is empty. Choose another.');
    expect((await put('towel-pull', Buffer.alloc(9 * 1_048_576)).expect(413)).body.error).toContain(`${PICTURE_MOST_BYTES / 1_048_576} MB is the most for a picture`);
    expect((await put('squat', jpeg).expect(404)).body.error).toContain('Only its own can have a picture');
    await put('..%2f..%2fevil', jpeg).expect(404);
    expect(JSON.parse(readFileSync(join(data, 'movements', 'towel-pull.json'), 'utf8'))).toEqual(towelPull);
    expect(existsSync(join(data, 'media'))).toBe(false);
  });

  it('R20 whoever is not paired is told how to be, and nothing is kept', async () => {
    for (const by of ['', 'hallclock=AAAAAAAAAAAAAAAAAAAAAA']) {
      expect((await post(towelPull, by).expect(403)).body.error).toBe('This browser may look, but not write. Give the desk\'s password at /desk, or open /phone and type the six digits that the screen shows; then try again.');
    }
    await request(server.url).put('/api/movements/towel-pull/picture').send(jpeg).expect(403);
    expect(existsSync(join(data, 'movements'))).toBe(false);
  });

  it('R21 a picture is handed out as what it is and never as a page; nothing else of the folder is', async () => {
    await post(towelPull).expect(201);
    await put('towel-pull', jpeg).expect(200);
    const { headers } = await request(server.url).get('/pictures/towel-pull.jpg').expect(200);
    expect(headers).toMatchObject({ 'content-type': 'image/jpeg', 'x-content-type-options': 'nosniff', 'content-security-policy': "default-src 'none'; sandbox" });
    writeFileSync(join(data, 'media', 'page.html'), '<script>alert(1)</script>');
    writeFileSync(join(data, 'media', 'disguised.png'), '<script>alert(1)</script>');
    for (const path of ['page.html', '..%2fhallclock.db', '..%2fmovements%2ftowel-pull.json', '.towel-pull.jpg.half', 'none.png', '']) {
      await request(server.url).get(`/pictures/${path}`).expect(404);
    }
    await request(server.url).get('/pictures/disguised.png').expect(200).expect('content-type', 'image/png').expect('x-content-type-options', 'nosniff');
  });
});
