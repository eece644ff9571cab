/** Holds the house: who may import whom, what the pure rooms may touch, and how long a file may be. */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const tracked = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], { cwd: root, encoding: 'utf8' })
  .split('\n').filter((f) => /\.(ts|tsx|mjs|css)$/.test(f));
const text = (file: string) => {
  try {
    return readFileSync(join(root, file), 'utf8');
  } catch {
    return '';
  }
};
const files = tracked.filter((f) => text(f) !== '');
/** A file without its comments: what is only spoken of is not done. */
const code = (file: string) => text(file).replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
const isTest = (f: string) => /\.test\.tsx?$/.test(f);

const pure = ['time', 'plan', 'movement', 'session', 'view', 'effort', 'coach', 'wire', 'words', 'home'] as const;
/** Room → rooms it may import. Everybody may import shared/limits.ts and itself. */
const doors: Record<string, readonly string[]> = {
  'shared/time': [],
  'shared/movement': ['shared/time'],
  'shared/plan': ['shared/time', 'shared/movement'],
  'shared/session': ['shared/time', 'shared/plan', 'shared/movement'],
  'shared/words': ['shared/time', 'shared/plan', 'shared/movement', 'shared/session'],
  'shared/view': ['shared/time', 'shared/plan', 'shared/movement', 'shared/session', 'shared/words'],
  'shared/effort': ['shared/time', 'shared/plan', 'shared/session'],
  'shared/coach': ['shared/time', 'shared/plan', 'shared/movement', 'shared/session', 'shared/view', 'shared/effort'],
  'shared/wire': pure.filter((r) => r !== 'home').map((r) => `shared/${r}`),
  'shared/home': pure.map((r) => `shared/${r}`),
  'shared/link': pure.map((r) => `shared/${r}`),
  'shared/ui': pure.map((r) => `shared/${r}`),
  'shared/sound': [...pure.map((r) => `shared/${r}`), 'shared/link'],
  'server/core': pure.map((r) => `shared/${r}`),
  server: [...pure.map((r) => `shared/${r}`), 'server/core'],
  display: [...pure.map((r) => `shared/${r}`), 'shared/link', 'shared/sound', 'shared/ui', 'media'],
  remote: [...pure.map((r) => `shared/${r}`), 'shared/link', 'shared/sound', 'shared/ui', 'media'],
  // Put together of the desk's editor and the screen's rehearsal; nobody imports it.
  'remote/home': [...pure.map((r) => `shared/${r}`), 'shared/link', 'shared/sound', 'shared/ui', 'media', 'remote', 'display'],
};
const roomOf = (file: string): string => {
  const [a = '', b = ''] = file.split('/');
  if (file === 'shared/limits.ts') return 'shared/limits';
  if (a === 'shared') return `shared/${b}`;
  if (file.startsWith('server/core/')) return 'server/core';
  if (file.startsWith('remote/home/')) return 'remote/home';
  return a;
};
const importsOf = (file: string): string[] =>
  [...text(file).matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((m) => m[1] ?? '');
const target = (file: string, spec: string): string | null => (spec.startsWith('.') ? normalize(join(dirname(file), spec)) : null);

describe('the house', () => {
  it('H1 nothing goes through a door that is not there', () => {
    const broken = files.filter((f) => !isTest(f)).flatMap((file) => {
      const allowed = doors[roomOf(file)];
      if (!allowed) return [];
      return importsOf(file).flatMap((spec) => {
        const to = target(file, spec);
        if (to === null) return [];
        const room = roomOf(to);
        const inside = room === roomOf(file) || room === 'shared/limits' || allowed.includes(room) || to === 'package.json';
        return inside ? [] : [`${file} → ${to}`];
      });
    });
    expect(broken).toEqual([]);
  });

  it('H2 the pure rooms import zod and, in coach, fuse.js and nothing else, and read no clock, chance or surroundings', () => {
    const inPure = files.filter((f) => pure.some((r) => f.startsWith(`shared/${r}/`)) && !isTest(f));
    expect(inPure.length).toBeGreaterThan(20);
    const packages = inPure.flatMap((f) => importsOf(f).filter((s) => !s.startsWith('.') && s !== 'zod' && !(s === 'fuse.js' && f.startsWith('shared/coach/'))).map((s) => `${f}: ${s}`));
    const touches = inPure.filter((f) => /\b(Date\.now|new Date\(\)|performance\.|Math\.random|setTimeout|setInterval|process\.|fetch\()/.test(code(f)));
    expect([...packages, ...touches]).toEqual([]);
  });

  it('H3 the real clock is read in one file of the server and one of the link; pages read no wall clock', () => {
    const readers = (room: RegExp, clock: RegExp) => files.filter((f) => room.test(f) && f !== 'server/demo.ts' && !isTest(f) && clock.test(code(f)));
    const any = /\b(Date\.now|new Date\(\)|performance\.now|process\.hrtime)\b/;
    expect(readers(/^server\/.*\.ts$/, any)).toEqual(['server/real-clock.ts']);
    expect(readers(/^shared\/link\//, any)).toEqual(['shared/link/device-clock.ts']);
    expect(readers(/^(display|remote)\//, /\b(Date\.now|new Date\(\))/)).toEqual([]);
  });

  it('H4 no code file is longer than 250 lines', () => {
    expect(files.filter((f) => text(f).split('\n').length > 251).map((f) => `${f}: ${text(f).split('\n').length}`)).toEqual([]);
  });

  it('H5 nothing is left over: no marks of unfinished work, no printing to the console, no looser types', () => {
    const left = new RegExp(['TO', 'DO|FIX', 'ME|', 'console\\.', 'log|@ts-', 'ignore|as a', 'ny\\b'].join(''));
    expect(files.filter((f) => left.test(text(f)))).toEqual([]);
  });

  it('H6 the top level holds what it should and no more', () => {
    const allowed = ['README.md', 'DEVELOPERS.md', 'package.json', 'package-lock.json', 'tsconfig.json', 'server', 'display', 'remote', 'tests', 'shared', 'media', 'node_modules', 'dist', 'test-results'];
    expect(readdirSync(root).filter((f) => !f.startsWith('.') && !allowed.includes(f))).toEqual([]);
  });

  it('H7 every rule has a test, and every test of shared and tests names a rule', () => {
    const rules = new Set([...text('shared/RULES.md').matchAll(/^([A-Z]\d+) /gm)].map((m) => m[1] ?? ''));
    const tests = files.filter((f) => isTest(f) || f.endsWith('.spec.ts'));
    const titles = tests.flatMap((file) => [...text(file).matchAll(/\b(?:it|test)(?:\.(?:each|skipIf)\([^`]*?\))?\(\s*[`'"]((?:[^`'"\\]|\\.)*)/g)].map((m) => ({ file, title: m[1] ?? '' })));
    const named = new Set(titles.flatMap(({ title }) => title.match(/^(?:[A-Z]\d+ )+/)?.[0].trim().split(' ') ?? []));
    const nameless = titles.filter(({ file, title }) => /^(shared|tests)\//.test(file) && !/^[A-Z]\d+ /.test(title)).map(({ file, title }) => `${file}: ${title}`);
    expect(nameless).toEqual([]);
    expect([...rules].filter((r) => !named.has(r))).toEqual([]);
    expect([...named].filter((r) => !rules.has(r))).toEqual([]);
  });
});
