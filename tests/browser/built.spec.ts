/**
 * Looks at the built files of screen and phone as a browser of 2019 would: syntax by acorn, names by MDN's
 * data (compat.ts). What is newer is filled in, asked for before it is used, or does no harm; each is named here.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { type Node, parse } from 'acorn';
import postcss, { type Declaration, type Rule } from 'postcss';
import { fills } from '../../shared/ui/older/fill.ts';
import { atRuleKnown, declarationUnknown, globalKnown, methodKnown, selectorUnknown } from './compat.ts';
import { expect, test } from './test.ts';

const dist = join(import.meta.dirname, '../../dist');
const folders = ['display/screen-assets', 'remote/remote-assets'].map((f) => join(dist, f));
const files = (end: string) => folders.flatMap((folder) => readdirSync(folder).filter((f) => f.endsWith(end)).map((f) => join(folder, f)));
/** Pages for plans and logs, which are read on a computer. */
const deskOnly = /[\\/](?:desk|Filters|movements|EditPage|NewPage|PlansPage|TimetablePage|TypedPage|NextPage|ReviewPage|NowPage|Planning|review|plan)[-.\w]*$/i;

/** Filled in by shared/ui/older/fill.ts, beside its `fills`. */
const filled = ['BigInt', 'timeout', 'showModal'];
/** Libraries and pages ask whether it is there before they use it. */
const askedFor = [
  'reportError', 'captureStackTrace', 'canParse', 'getOutputTimestamp', 'wakeLock', 'getAnimations', 'setKeyframes', 'getKeyframes', 'startViewTransition',
  'skipTransition', 'navigate', 'getState', 'WebTransport', 'createBidirectionalStream', 'TransformStream', 'setBigUint64', 'AudioContext',
  'getWriter', 'createStereoPanner', 'cancelScheduledValues', 'getBattery', 'vibrate', 'HTMLDialogElement',
];

/** Every node of a program, with the one that holds it. */
function walk(node: Node, see: (node: Node & Record<string, unknown>, parent: (Node & Record<string, unknown>) | null) => void, parent: (Node & Record<string, unknown>) | null = null): void {
  const here = node as Node & Record<string, unknown>;
  see(here, parent);
  for (const value of Object.values(here)) {
    for (const inner of Array.isArray(value) ? value : [value]) {
      if (inner && typeof inner === 'object' && typeof (inner as Node).type === 'string') walk(inner as Node, see, here);
    }
  }
}

test('V450 the built scripts have the syntax of ES2019, and the names that they call are known, filled in or asked for', () => {
  const scripts = files('.js').filter((f) => !deskOnly.test(f));
  expect(scripts.length).toBeGreaterThan(1);
  const wrong: string[] = [];
  for (const file of scripts) {
    // import() and import.meta are older than their edition of the language: Chromium 64, Safari 11.1.
    const program = parse(readFileSync(file, 'utf8'), { ecmaVersion: 2020, sourceType: 'module' });
    walk(program, (node, parent) => {
      const say = (what: string) => wrong.push(`${file.slice(dist.length + 1)} ${node.start}: ${what}`);
      const regex = node.regex as { pattern: string; flags: string } | undefined;
      if (node.type === 'ChainExpression' || (node.type === 'LogicalExpression' && node.operator === '??') || node.bigint) say(String(node.operator ?? node.type));
      if (regex && (/\(\?<[!=]/.test(regex.pattern) || /[dv]/.test(regex.flags))) say(`/${regex.pattern}/${regex.flags}`);
      const callee = node.type === 'CallExpression' ? node.callee as Node & { computed?: boolean; property?: { name?: string } } : null;
      const method = callee?.type === 'MemberExpression' && !callee.computed ? callee.property?.name : undefined;
      if (method !== undefined && methodKnown(method) === false && !ours.has(method) && ![...Object.keys(fills), ...filled, ...askedFor].includes(method)) say(`.${method}()`);
      const name = node.type === 'Identifier' ? node.name as string : '';
      const asName = !(parent?.type === 'MemberExpression' && parent.property === node && !parent.computed) && !(parent?.type === 'Property' && parent.key === node);
      if (name.length > 2 && asName && globalKnown(name) === false && ![...filled, ...askedFor].includes(name)) say(name);
    });
  }
  expect([...new Set(wrong)]).toEqual([]);
});

/** Methods of our own and of libraries that have the name of a newer one of the platform's. */
const ours = new Set([
  'use', 'run', 'check', 'seek', 'pan', 'subscribe', 'to', 'sample', 'command', 'destroy', 'dispatch', 'query', 'reconnect', 'mul', 'xor', 'from', 'createContext', 'isValid',
  'unlock', 'when', 'orientation', 'tracks', 'override', 'turn', 'number',
]);

/** Of no consequence where it is not known: how lines break, how a scroll ends, which ring shows who has the focus. */
const harmless = [
  'text-wrap', 'accent-color', 'overscroll-behavior', 'scrollbar-width', 'scrollbar-gutter', 'text-size-adjust', 'color-scheme', 'user-select', 'font-synthesis', 'container-type', 'container-name',
  'forced-color-adjust', 'overflow-clip-margin', 'focus-visible', 'backdrop', 'has', 'container', 'print-color-adjust', 'scroll-snap-type', 'text-underline-offset', 'row-gap', 'column-gap', 'gap', 'aspect-ratio',
  'outline', 'text-decoration-thickness', 'file-selector-button', 'scroll-margin', 'scroll-margin-top',
];

test('V451 a style that an older browser does not know has an older one beside it, or does no harm', () => {
  const sheets = files('.css').filter((f) => !deskOnly.test(f));
  expect(sheets.length).toBeGreaterThan(1);
  const wrong: string[] = [];
  for (const file of sheets) {
    postcss.parse(readFileSync(file, 'utf8')).walk((node) => {
      const say = (what: string) => wrong.push(`${file.slice(dist.length + 1)}: ${what}`);
      if (node.type === 'atrule' && !atRuleKnown(node.name) && !harmless.includes(node.name)) say(`@${node.name}`);
      if (node.type === 'rule') {
        const unknown = selectorUnknown(node.selector);
        if (unknown !== null && !harmless.includes(unknown)) say(node.selector);
      }
      if (node.type !== 'decl') return;
      const unknown = declarationUnknown(node.prop, node.value);
      const rule = node.parent as Rule;
      const tried = rule.parent?.type === 'atrule' && ['supports', 'font-face', 'container'].includes((rule.parent as unknown as { name: string }).name);
      const older = rule.nodes.some((n) => n !== node && n.type === 'decl' && n.prop === node.prop && declarationUnknown(n.prop, n.value) === null);
      const single = ['translate', 'scale', 'rotate'].includes(node.prop);
      if (unknown !== null && !tried && !(older && !node.value.includes('var(')) && !single && !harmless.includes(unknown)) say(`${rule.selector} { ${node.prop}: ${node.value} }`);
    });
  }
  expect([...new Set(wrong)]).toEqual([]);
});

test('V452 where flex boxes keep no gap, the children of each have margins, and what is moved by one word has a transform', () => {
  const wrong: string[] = [];
  for (const file of files('.css').filter((f) => !deskOnly.test(f))) {
    const text = readFileSync(file, 'utf8');
    const sheet = postcss.parse(text);
    const saidIn = (rule: Rule, prop: string) => rule.nodes.find((n): n is Declaration => n.type === 'decl' && n.prop === prop)?.value ?? '';
    const last = (selector: string) => selector.split(/[\s>+~]+/).pop() ?? '';
    const flex = new Set<string>();
    sheet.walkRules((rule) => { if (/flex/.test(saidIn(rule, 'display'))) for (const s of rule.selectors) flex.add(last(s)); });
    sheet.walkRules((rule) => {
      const said = (prop: string) => saidIn(rule, prop);
      const isFlex = said('display') === '' ? rule.selectors.some((s) => flex.has(last(s))) : /flex/.test(said('display'));
      if (said('gap') !== '' && isFlex && !text.includes(`[data-no-gap] ${rule.selectors[0]}`)) wrong.push(`gap: ${rule.selector}`);
      if (said('translate') + said('scale') !== '' && !(rule.next()?.type === 'atrule')) wrong.push(`moved: ${rule.selector}`);
    });
  }
  expect(wrong).toEqual([]);
});

test('V457 what a screen loads before it can show is less than 150 kB, compressed', () => {
  const html = readFileSync(join(dist, 'display/index.html'), 'utf8');
  const asked = [...html.matchAll(/(?:src|href)="\/(screen-assets\/[^"]+\.js)"/g)].map((m) => m[1] ?? '');
  expect(asked.length).toBeGreaterThan(0);
  const bytes = asked.reduce((sum, f) => sum + gzipSync(readFileSync(join(dist, 'display', f)), { level: 9 }).length, 0);
  expect(bytes).toBeLessThan(150_000);
  // Schemas, sound, codes and rehearsals are asked for later or never.
  const first = asked.map((f) => readFileSync(join(dist, 'display', f), 'utf8')).join('');
  for (const later of ['invalid_union', 'webkitAudioContext', 'Unknown EC Level']) expect(first.includes(later), later).toBe(false);
});
