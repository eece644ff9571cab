/** Holds what we are made of: every package may be used beside our licence, and each that we chose has its sentence. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { licences } from '../../server/licences.mjs';

const text = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

it('K410 the licence of every package in the lock may be used beside ours; one that may not, or states none, is found', () => {
  const rows = licences();
  expect(rows.length).toBeGreaterThan(100);
  expect(rows.filter((r) => !r.may)).toEqual([]);
  const packages = {
    '': {}, 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '1.0.0' }, 'node_modules/c': { version: '1.0.0' },
    'node_modules/d': { version: '1.0.0', dev: true }, 'node_modules/e': { version: '1.0.0' }, 'node_modules/f': { version: '1.0.0', license: 'MIT' },
  };
  const states: Record<string, unknown> = { a: { license: 'AGPL-3.0' }, b: {}, c: { license: '(GPL-2.0 OR MIT)' }, d: { license: 'MPL-2.0' }, e: { license: 'MIT AND MPL-2.0' } };
  const read = (path: string) => {
    const found = states[path.replace('node_modules/', '')];
    if (!found) throw new Error('not installed here');
    return found;
  };
  expect(licences({ packages }, read).map((r) => [r.name, r.may])).toEqual([['a', false], ['b', false], ['c', true], ['d', true], ['e', false], ['f', true]]);
});

it('K411 every package that the studio runs stands in DEVELOPERS.md with the reason, and at one version', () => {
  const { dependencies } = JSON.parse(text('package.json')) as { dependencies: Record<string, string> };
  const said = /## Dependencies\n([\s\S]*?)\n## /.exec(text('DEVELOPERS.md'))?.[1] ?? '';
  expect(Object.keys(dependencies).filter((name) => !said.includes(`\`${name}\``))).toEqual([]);
  expect(Object.entries(dependencies).filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
});
