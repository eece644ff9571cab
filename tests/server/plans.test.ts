/** Holds keeping plans against the real server: two editors, versions, the bin, what is refused, the description for programs. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createConfig, lintFromString } from '@redocly/openapi-core';
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { FILE_MOST_BYTES } from '../../shared/limits.ts';
import { type Plan, type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import { binSchema, conflictSchema, editorsSchema, keptSchema, versionsSchema } from '../../shared/wire/plans.ts';
import { device, inside, newFolder, pair, serve } from './serve.ts';

let data = '';
let cookie = '';
let server: Awaited<ReturnType<typeof serve>>;
beforeAll(async () => {
  data = newFolder();
  server = await serve(data);
  const screen = device(server.url, 'screen');
  cookie = await pair(server.url, screen);
  screen.close();
});
afterAll(() => server.close());

const input = (id: string, more: Partial<PlanInput> = {}): PlanInput => ({
  format: 1, id, name: 'Tuesday', sections: [
    { id: 'welcome', kind: 'welcome', talk: 60 },
    { id: 'main', kind: 'main', rounds: 3, work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'plank' }] },
  ], ...more,
});
const api = () => request(server.url);
const post = (body: unknown, by = cookie) => api().post('/api/plans').set('cookie', by).set('content-type', 'application/json').send(typeof body === 'string' ? body : JSON.stringify(body));
const put = (id: string, base: string, plan: unknown) => api().put(`/api/plans/${id}`).set('cookie', cookie).send({ base, plan } as object);
const made = async (id: string) => keptSchema.parse((await post(input(id)).expect(201)).body);
const main = (plan: Plan) => plan.sections.find((s) => s.id === 'main');
const withMain = (plan: Plan, fields: object): Plan => ({ ...plan, sections: plan.sections.map((s) => (s.id === 'main' ? { ...s, ...fields } : s)) });

describe('plans of the studio', () => {
  it('K200 a plan is kept, read again by its revision, and there for the phone at once', async () => {
    const kept = await made('kept-one');
    expect(keptSchema.parse((await api().get('/api/plans/kept-one/kept').expect(200)).body)).toEqual(kept);
    const listed = (await api().get('/api/plans')).body.plans.find((p: { id: string }) => p.id === 'kept-one');
    expect(listed).toMatchObject({ name: 'Tuesday', problem: null });
    const again = keptSchema.parse((await put('kept-one', kept.revision, { ...kept.plan, name: 'Wednesday' }).expect(200)).body);
    expect(again.revision).not.toBe(kept.revision);
    expect(planSchema.parse(JSON.parse(readFileSync(join(data, 'plans/kept-one.json'), 'utf8')))).toEqual(again.plan);
  });

  it('K201 two who edit the same plan: what only one changed is brought together and said', async () => {
    const first = await made('two-hands');
    await put('two-hands', first.revision, { ...first.plan, name: 'Thursday' }).expect(200);
    const both = keptSchema.parse((await put('two-hands', first.revision, withMain(first.plan, { work: 30 })).expect(200)).body);
    expect([both.plan.name, main(both.plan)?.work, both.taken]).toEqual(['Thursday', 30, ['the name']]);
  });

  it('K201 where both changed the same, nothing is overwritten, both versions are kept, and the second is asked', async () => {
    const first = await made('clash');
    const theirs = keptSchema.parse((await put('clash', first.revision, withMain(first.plan, { work: 45 })).expect(200)).body);
    const mine = withMain(first.plan, { work: 30 });
    const conflict = conflictSchema.parse((await put('clash', first.revision, mine).expect(409)).body);
    expect(conflict).toMatchObject({ conflicts: ['the work of “Main”'], revision: theirs.revision, theirs: theirs.plan });
    expect(keptSchema.parse((await api().get('/api/plans/clash/kept')).body).plan).toEqual(theirs.plan);
    const { versions } = versionsSchema.parse((await api().get('/api/plans/clash/versions')).body);
    const plans = await Promise.all(versions.map(async (v) => planSchema.parse((await api().get(`/api/plans/clash/versions/${v.revision}`)).body)));
    expect(plans).toEqual(expect.arrayContaining([first.plan, theirs.plan, planSchema.parse(mine)]));
    await put('clash', conflict.revision, mine).expect(200);
  });

  it('K202 a plan in the bin can be taken out again; what came with Hallclock stays', async () => {
    await made('to-bin');
    const { file } = (await api().delete('/api/plans/to-bin').set('cookie', cookie).expect(200)).body as { file: string };
    await api().get('/api/plans/to-bin').expect(404);
    expect(binSchema.parse((await api().get('/api/bin')).body).plans.map((p) => p.id)).toContain('to-bin');
    await api().post(`/api/bin/${file}/back`).set('cookie', cookie).expect(200);
    await api().get('/api/plans/to-bin').expect(200);
    expect((await api().delete('/api/plans/forty-twenty').set('cookie', cookie).expect(409)).body.error).toContain('came with Hallclock');
    await api().post('/api/bin/..%2F..%2Fhallclock.db/back').set('cookie', cookie).expect(404);
  });

  it('K203 who edits at the same time is told of, and which is the newest', async () => {
    const { revision } = await made('watched');
    const hello = (editor: string) => api().post('/api/plans/watched/editing').set('cookie', cookie).send({ editor });
    await hello('00000000-0000-4000-8000-000000000001').expect(200);
    expect(editorsSchema.parse((await hello('00000000-0000-4000-8000-000000000002').expect(200)).body)).toEqual({ others: 1, revision });
  });

  it('R200 only a paired browser keeps, changes and bins plans; every other is told how to be paired', async () => {
    for (const answer of [await post(input('sneaky'), ''), await api().put('/api/plans/clash').send({}), await api().delete('/api/plans/clash')]) {
      expect([answer.status, String(answer.body.error)]).toEqual([403, expect.stringContaining('six digits')]);
    }
    expect(existsSync(join(data, 'plans/sneaky.json'))).toBe(false);
  });

  const section = (fields: object) => ({ sections: [{ id: 'main', kind: 'main', work: 40, items: [{ movement: 'squat' }], ...fields }] });
  it.each<[string, object, string | RegExp]>([
    ['ten hours in a row', section({ work: 36_000 }), 'at section 1, work: at most 3600 s (an hour)'],
    ['200 movements', section({ items: Array.from({ length: 200 }, () => ({ movement: 'squat' })) }), 'at section 1, items: at most 60; take some out'],
    ['0 seconds', section({ work: 0 }), 'at section 1, work: at least 1 s'],
    ['a negative rest', section({ rest: -5 }), /at section 1, rest: /],
    ['hundredths', section({ work: 40.125 }), 'tenths of a second at the finest'],
    ['NaN, which JSON writes as null', section({ work: Number.NaN }), 'a number should stand here'],
    ['1e308', section({ work: 1e308 }), 'at section 1, work: at most 3600 s (an hour)'],
    ['a name of 10,000 letters', { name: 'x'.repeat(10_000) }, 'at name: at most 80 letters; shorten it'],
    ['a name of nothing', { name: '   ' }, 'at name: a plan needs a name'],
    ['one id twice', { sections: [{ id: 'a', kind: 'welcome', talk: 10 }, { id: 'a', kind: 'welcome', talk: 10 }] }, 'the section id "a" is used twice'],
    ['a newer format', { format: 7 }, 'this plan is of format 7, written by a newer Hallclock'],
    ['a field that is none', { colour: 'red' }, '"colour" is no field of a plan; take it out'],
    ['an id that climbs', { id: '../../evil' }, 'at id: an id is small letters'],
  ])('K204 refused with what and where, and nothing is stored: %s', async (_what, more, sentence) => {
    const before = readdirSync(join(data, 'plans'));
    const answer = await post({ ...input('bad'), ...more });
    expect([answer.status, answer.body.error]).toEqual([400, expect.stringMatching(typeof sentence === 'string' ? sentence.replace(/[.*+?^${}()|[\]\\]/g, '\\$&') : sentence)]);
    const { revision, plan } = keptSchema.parse((await api().get('/api/plans/clash/kept')).body);
    expect((await put('clash', revision, { ...plan, ...more })).status).toBe(400);
    expect(readdirSync(join(data, 'plans'))).toEqual(before);
    expect(keptSchema.parse((await api().get('/api/plans/clash/kept')).body).revision).toBe(revision);
  });

  it('K204 what is no JSON, and what is too large, is said so', async () => {
    expect((await post('{"format": 1,').expect(400)).body.error).toContain('no JSON');
    expect((await post({ note: 'x'.repeat(FILE_MOST_BYTES) }).expect(413)).body.error).toContain('at most');
  });

  it('K205 names in any script and with pictures are kept as they are; a movement that is gone leaves a plan that says so', async () => {
    for (const [id, name] of [['rtl', 'تمارين الصباح'], ['emoji', '🧘 Calm 👩‍🦽'], ['mixed', 'שיעור 40/20']] as const) {
      expect(keptSchema.parse((await post(input(id, { name })).expect(201)).body).plan.name).toBe(name);
    }
    await post(input('lost', { sections: [{ id: 'main', kind: 'main', work: 40, items: [{ movement: 'no-such-move' }] }] })).expect(201);
    expect((await api().get('/api/plans')).body.plans.find((p: { id: string }) => p.id === 'lost').problem).toContain('"no-such-move" is not in the library');
  });

  it('W200 the schema of a plan stands at one address, and a file of a plan names it and is read by it', async () => {
    const schema = z.fromJSONSchema((await api().get('/api/schemas/plan-1.json').expect(200)).body);
    const file = (await api().get('/api/plans/forty-twenty/file').expect(200).expect('content-disposition', /forty-twenty\.json/)).body;
    const { $schema, ...plan } = file;
    expect($schema).toBe('/api/schemas/plan-1.json');
    expect(schema.safeParse(plan).success).toBe(true);
    expect(schema.safeParse({ ...plan, sections: 'none' }).success).toBe(false);
  });
});

describe('the description for programs', () => {
  it('W201 a public linter (Redocly, its recommended rules) finds no error in it', async () => {
    const source = JSON.stringify((await api().get('/api/openapi.json').expect(200)).body);
    const problems = await lintFromString({ source, config: await createConfig({ extends: ['recommended'] }) });
    expect(problems.filter((p) => p.severity === 'error').map((p) => `${p.ruleId}: ${p.message} ${p.location[0]?.pointer ?? ''}`)).toEqual([]);
  });

  it('W202 real answers are what it says of them', async () => {
    const { paths, components } = (await api().get('/api/openapi.json')).body as { paths: Record<string, Record<string, { responses: Record<string, { content: Record<string, { schema: object }> }> }>>; components: object };
    const held = (path: string, status: string, body: unknown, method = 'get') => {
      const schema = paths[path]?.[method]?.responses[status]?.content['application/json']?.schema;
      const read = z.fromJSONSchema(JSON.parse(JSON.stringify({ ...schema, $defs: (components as { schemas: object }).schemas }).replaceAll('#/components/schemas/', '#/$defs/')));
      const parsed = read.safeParse(body);
      expect(parsed.success ? [] : parsed.error.issues.slice(0, 3), `${method} ${path} ${status}`).toEqual([]);
    };
    const asked: [string, string, number][] = [
      ['/api/health', '/api/health', 200], ['/api/plans', '/api/plans', 200], ['/api/plans/{id}', '/api/plans/first-steps', 200], ['/api/plans/{id}', '/api/plans/none', 404],
      ['/api/plans/{id}/kept', '/api/plans/first-steps/kept', 200], ['/api/plans/{id}/versions', '/api/plans/clash/versions', 200], ['/api/plans/{id}/file', '/api/plans/clash/file', 200],
      ['/api/plans/{id}/shows', '/api/plans/clash/shows', 200], ['/api/bin', '/api/bin', 200], ['/api/movements', '/api/movements', 200], ['/api/timetable', '/api/timetable', 200],
      ['/api/rooms/{id}/due', '/api/rooms/garden/due', 200], ['/api/classes', '/api/classes', 200], ['/api/classes/{id}', '/api/classes/none', 404],
    ];
    for (const [path, at, status] of asked) held(path, String(status), (await inside(server.url).get(at).expect(status)).body);
    held('/api/plans', '201', (await post(input('described')).expect(201)).body, 'post');
    held('/api/plans', '403', (await post(input('other'), '').expect(403)).body, 'post');
    held('/api/plans', '400', (await post({}).expect(400)).body, 'post');
    held('/api/plans', '409', (await post(input('described')).expect(409)).body, 'post');
  });
});
