/**
 * Holds the server against broken plans: some hundreds in npm test, ten thousand with
 * HALLCLOCK_FUZZED_PLANS=10000 npm run unit -- tests/server/plan-fuzz
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { FILE_MOST_BYTES } from '../../shared/limits.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { problemSchema } from '../../shared/wire/http.ts';
import { keptSchema } from '../../shared/wire/plans.ts';
import { plans } from '../random/plans.ts';
import { SEED } from '../seed.ts';
import { device, newFolder, pair, serve } from './serve.ts';

const RUNS = Number(process.env.HALLCLOCK_FUZZED_PLANS ?? 500);

const odd = fc.oneof(
  fc.constantFrom<unknown>(null, -1, 0, 1e308, -1e308, 0.1234, 36_000, '', 'x'.repeat(10_000), '\u202Eevil', '🧘'.repeat(50), true, [], {}, [[]], '__proto__', 'NaN', 2 ** 53),
  fc.jsonValue(), fc.string({ unit: 'binary' }), fc.double(),
);
/** A good plan with one to four places set to something odd, doubled or taken away. */
const broken = fc.tuple(plans, fc.array(fc.tuple(fc.nat(), odd, fc.constantFrom('set', 'set', 'drop', 'add', 'double')), { minLength: 1, maxLength: 4 })).map(([plan, harms]) => {
  const copy: unknown = JSON.parse(JSON.stringify({ ...plan, id: 'fuzzed' }));
  for (const [n, value, how] of harms) {
    const places: (readonly [Record<string, unknown>, string])[] = [];
    const walk = (at: unknown): void => {
      if (typeof at !== 'object' || at === null) return;
      for (const key of Object.keys(at)) { places.push([at as Record<string, unknown>, key]); walk((at as Record<string, unknown>)[key]); }
    };
    walk(copy);
    const [parent, key] = places[n % Math.max(1, places.length)] ?? [{}, 'x'];
    if (how === 'set') parent[key] = value;
    else if (how === 'drop') delete parent[key];
    else if (how === 'add') Object.defineProperty(parent, `extra${n % 7}`, { value, enumerable: true, writable: true, configurable: true });
    else if (Array.isArray(parent)) parent.push(...Array.from({ length: n % 90 }, () => parent[Number(key)]));
  }
  return copy;
});

it('K206 the server stands and the stored plans are untouched, however many broken plans come', async () => {
  const data = newFolder();
  const server = await serve(data);
  const screen = device(server.url, 'screen');
  const cookie = await pair(server.url, screen);
  screen.close();
  const send = (method: string, path: string, body: string) => fetch(`${server.url}${path}`, { method, headers: { cookie, 'content-type': 'application/json' }, body });
  const stored = { format: 1, id: 'stored', name: 'Stored', sections: [{ id: 'main', kind: 'main', work: 40, items: [{ movement: 'squat' }] }] };
  const { revision } = keptSchema.parse(await (await send('POST', '/api/plans', JSON.stringify(stored))).json());
  const disk = () => readdirSync(join(data, 'plans'), { recursive: true }).map(String).filter((f) => f.startsWith('stored') || f.includes('/stored/') || f.includes('stored.json'))
    .map((f) => `${f} ${statSync(join(data, 'plans', f)).isFile() ? createHash('sha256').update(readFileSync(join(data, 'plans', f))).digest('hex') : ''}`);
  const before = disk();
  let refused = 0;
  for (const plan of fc.sample(broken, { numRuns: RUNS, seed: SEED })) {
    const good = planSchema.safeParse(plan);
    const text = JSON.stringify(plan) ?? 'null';
    // A longer one is refused while it is still being sent; its sender may see no more than that.
    if (text.length > FILE_MOST_BYTES) { refused += 1; await send('POST', '/api/plans', text).catch(() => null); continue; }
    const toNew = await send('POST', '/api/plans', text);
    const answer: unknown = await toNew.json();
    if (toNew.status >= 400) {
      refused += 1;
      const { error } = problemSchema.parse(answer);
      expect(error.length, text.slice(0, 200)).toBeGreaterThan(15);
      expect(toNew.status).toBeLessThan(500);
    } else expect(good.success, text.slice(0, 300)).toBe(true);
    const over = await send('PUT', '/api/plans/stored', `{"base":"${revision}","plan":${text}}`);
    expect(over.status >= 400 && over.status < 500, `${over.status} ${text.slice(0, 200)}`).toBe(true);
    await over.arrayBuffer();
  }
  expect(refused).toBeGreaterThan(RUNS / 2);
  expect(disk()).toEqual(before);
  expect((await fetch(`${server.url}/api/health`)).status).toBe(200);
  expect(server.warnings).toEqual([]);
  await server.close();
}, 60_000 + RUNS * 60);
