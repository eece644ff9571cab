/**
 * Owns `npm run licences`: every package that the lock names, with the licence that it states
 * itself, and whether it may be used beside ours (MIT) in what is given out. Ends with 1 where one
 * may not, says nothing, or is not there to be read.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const json = (path) => JSON.parse(readFileSync(join(root, path), 'utf8'));

/** SPDX names that ask for no more than to be named, and those of fonts that may go with a program. */
const FREE = new Set(['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', '0BSD', 'Apache-2.0', 'Unlicense', 'CC0-1.0', 'BlueOak-1.0.0', 'Python-2.0', 'PSF-2.0', 'OFL-1.1', 'Zlib', 'MIT-0', 'WTFPL', 'CC-BY-4.0']);
/** These ask that changes to their own files stay free: for tools and tests, which are not given out, and unchanged. */
const FOR_TOOLS = new Set(['MPL-2.0', 'LGPL-3.0-or-later', 'LGPL-3.0']);

/** "(MIT OR CC0-1.0)", "MIT AND ISC": one of the first is enough, of the second each counts. */
const allowed = (licence, tool) => licence.replace(/[()]/g, '').split(/ OR /i)
  .some((choice) => choice.split(/ AND /i).every((one) => FREE.has(one.trim()) || (tool && FOR_TOOLS.has(one.trim()))));

const stated = (pkg) => (typeof pkg.license === 'string' ? pkg.license : pkg.license?.type ?? pkg.licenses?.map((l) => l.type ?? l).join(' OR ') ?? '');

export function licences(lock = json('package-lock.json'), read = (path) => json(`${path}/package.json`)) {
  const rows = [];
  for (const [path, entry] of Object.entries(lock.packages)) {
    if (path === '' || entry.link) continue;
    const tool = entry.dev === true || entry.devOptional === true;
    let licence = entry.license ?? '';
    try {
      licence = stated(read(path)) || licence;
    } catch { /* One for another kind of machine is not installed here; the lock says what it is. */ }
    rows.push({ name: path.split('node_modules/').at(-1), version: entry.version, licence: licence || 'none stated', tool, may: licence !== '' && allowed(licence, tool) });
  }
  return rows;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const rows = licences();
  const say = (text) => process.stdout.write(`${text}\n`);
  for (const given of [true, false]) {
    const some = rows.filter((r) => r.tool !== given);
    const by = new Map();
    for (const r of some) by.set(r.licence, [...(by.get(r.licence) ?? []), `${r.name} ${r.version}`]);
    say(`\n${given ? 'What the studio runs' : 'What builds and tests it'}: ${some.length} packages`);
    for (const [licence, names] of [...by].sort((a, b) => b[1].length - a[1].length)) say(`  ${licence} (${names.length})${given || names.length < 6 ? `: ${[...new Set(names)].sort().join(', ')}` : ''}`);
  }
  const bad = rows.filter((r) => !r.may);
  for (const r of bad) process.stderr.write(`${r.name} ${r.version}: ${r.licence}. It may not be used here; take another, or say in server/licences.mjs why it may.\n`);
  say(bad.length === 0 ? '\nAll may be used beside MIT.' : '');
  process.exit(bad.length === 0 ? 0 : 1);
}
