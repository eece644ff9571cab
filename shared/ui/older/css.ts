/**
 * Owns what the build adds to style sheets for browsers from about 2019: room between the
 * children of a flex box (Chromium 84, Safari 14.1), single transforms (104, 14.1), units of

 */
import postcss, { type AtRule, type Declaration, type Plugin, type Root, type Rule, type Source } from 'postcss';
import { NO_GAP } from './marks.ts';

interface Flex { readonly flex: boolean; readonly column: boolean; readonly wraps: boolean }
const declared = (rule: Rule, prop: string): Declaration | undefined =>
  rule.nodes.filter((n): n is Declaration => n.type === 'decl' && n.prop === prop).pop();

/** What a rule by itself says of its box. */
function flexIn(rule: Rule): Partial<Flex> {
  const display = declared(rule, 'display')?.value;
  const flow = `${declared(rule, 'flex-flow')?.value ?? ''} ${declared(rule, 'flex-direction')?.value ?? ''}`;
  const wrap = `${declared(rule, 'flex-flow')?.value ?? ''} ${declared(rule, 'flex-wrap')?.value ?? ''}`;
  return {
    // A box that is not shown in one case is no other box in the others.
    ...(display === undefined || display === 'none' ? {} : { flex: /flex/.test(display) }),
    ...(/column|row/.test(flow) ? { column: /column/.test(flow) } : {}),
    ...(/wrap/.test(wrap) ? { wraps: !/nowrap/.test(wrap) } : {}),
  };
}

/** The last simple part of a selector: what is said of ".head" holds for "[data-upright] .head" too. */
const last = (selector: string): string => selector.trim().split(/[\s>+~]+/).pop() ?? '';
const bare = (selector: string): string => /^[.#]?[\w-]+/.exec(last(selector))?.[0] ?? last(selector);

/** What a selector ends with, the longest first: "[x] .a > li", ".a > li", "> li", "li". */
const ends = (selector: string): string[] => selector.trim().split(/\s+/).map((_, k, parts) => parts.slice(k).join(' ')).filter((s) => /^[.[]/.test(s));
/** Children stand apart by margins where the box itself keeps no gap. */
type Known = Map<string, Partial<Flex>>;
function learn(known: Known, root: Root): void {
  root.walkRules((rule) => {
    for (const selector of rule.selectors) {
      const plain = selector.trim() === bare(selector);
      known.set(selector.trim(), { ...known.get(selector.trim()), ...flexIn(rule) });
      if (plain || known.get(bare(selector))?.flex === undefined) known.set(bare(selector), { ...known.get(bare(selector)), ...flexIn(rule) });
    }
  });
}

function withMargins(root: Root, elsewhere: Known): void {
  const known: Known = new Map(elsewhere);
  learn(known, root);
  root.walkRules((rule) => {
    const gap = declared(rule, 'gap');
    if (!gap || rule.selector.includes(NO_GAP)) return;
    const own = flexIn(rule);
    for (const selector of [...rule.selectors].reverse()) {
      const box = { ...known.get(bare(selector)), ...ends(selector).map((s) => known.get(s)).find((k) => k?.flex !== undefined), ...own };
      if (!box.flex) continue;
      const [row = '0', column = row] = lengths(gap.value);
      const source = (gap.source ?? rule.source) as Source;
      const made = rule.clone({ selector: `[${NO_GAP}] ${selector} > *${box.wraps ? '' : ' + *'}` });
      made.removeAll();
      if (box.wraps) made.append({ prop: 'margin-inline-end', value: column, source }, { prop: 'margin-bottom', value: row, source });
      else if (box.column) made.append({ prop: 'margin-top', value: row, source }, ...(own.flex ? [] : [{ prop: 'margin-inline-start', value: '0', source }]));
      else made.append({ prop: 'margin-inline-start', value: column, source }, ...(own.flex ? [] : [{ prop: 'margin-top', value: '0', source }]));
      rule.after(made);
    }
  });
}

/** The lengths in a value, "2px calc(2 * var(--u))" being two. */
export function lengths(value: string): string[] {
  const found: string[] = [];
  let depth = 0;
  let now = '';
  for (const letter of `${value.trim()} `) {
    if (letter === '(') depth += 1;
    if (letter === ')') depth -= 1;
    if (letter === ' ' && depth === 0) {
      if (now !== '') found.push(now);
      now = '';
    } else now += letter;
  }
  return found;
}

/** Four sides of one to four values, in the order of CSS. */
const sides = ([a = '0', b = a, c = a, d = b]: readonly string[]): readonly string[] => [a, b, c, d];
/** Names for two or four sides, and the names that older browsers know each by. */
const IN_ONE_WORD: Readonly<Record<string, readonly string[]>> = {
  inset: ['top', 'right', 'bottom', 'left'],
  'inset-block': ['top', 'bottom'],
  'margin-block': ['margin-top', 'margin-bottom'],
  'padding-block': ['padding-top', 'padding-bottom'],
  'margin-inline': ['margin-inline-start', 'margin-inline-end'],
  'padding-inline': ['padding-inline-start', 'padding-inline-end'],
};

function withEachSide(root: Root): void {
  root.walkDecls((decl) => {
    const names = IN_ONE_WORD[decl.prop];
    if (names) {
      const [a = '0', b = '0', c = '0', d = '0'] = sides(lengths(decl.value));
      const values = names.length === 4 ? [a, b, c, d] : [a, b];
      decl.replaceWith(names.map((prop, k) => decl.clone({ prop, value: values[k] ?? '0' })));
    } else if (decl.prop === 'border-block') {
      decl.replaceWith(['border-top', 'border-bottom'].map((prop) => decl.clone({ prop })));
    }
  });
}

const SINGLE = ['translate', 'scale', 'rotate'] as const;

/** "translate: a b" as the transform it is; "none" as none. */
const asTransform = (decl: Declaration): string =>
  (decl.value === 'none' ? 'none' : `${decl.prop}(${lengths(decl.value).join(', ')})`);

function withTransforms(root: Root, atRule: (params: string) => AtRule): void {
  root.walkRules((rule) => {
    const single = rule.nodes.filter((n): n is Declaration => n.type === 'decl' && SINGLE.some((s) => s === n.prop));
    if (single.length === 0) return;
    const made = rule.clone();
    made.removeAll();
    made.append({ prop: 'transform', value: single.map(asTransform).join(' '), source: single[0]?.source as Source });
    const older = atRule('not (translate: 0)');
    if (rule.source) older.source = rule.source;
    older.append(made);
    rule.after(older);
  });
}

/** What is tried, and what stands in its place where it is not known. */
const KINDS: readonly { readonly is: RegExp; readonly known: string; readonly older: (value: string) => string }[] = [
  { is: /\d[dsl]v[hw]\b/, known: '(height: 1dvh)', older: (v) => v.replace(/(\d)[dsl](v[hw])\b/g, '$1$2') },
  { is: /\dcq(w|h|i|b)\b/, known: '(width: 1cqw)', older: (v) => v.replace(/(\d)cq[wi]\b/g, '$1vw').replace(/(\d)cq[hb]\b/g, '$1vh') },
  { is: /color-mix\(/, known: '(color: color-mix(in srgb, red, red))', older: firstColour },
];

/** The first colour of each mix, without its share. */
export function firstColour(value: string): string {
  return value.replace(/color-mix\(in [a-z]+, (var\([^()]*\)|#[0-9a-f]+|[a-z]+)[^,]*, (?:[^()]|\([^()]*\))*\)/gi, '$1');
}

/**
 * A value that older browsers do not know is laid under @supports, with another before it. To write
 * both in one rule is not enough: with var() in it a browser finds out too late. What has an
 * older value before it already is left as it was written.
 */
function withOlderValues(root: Root, atRule: (params: string) => AtRule): void {
  root.walkRules((rule) => {
    if (rule.parent?.type === 'atrule' && (rule.parent as AtRule).name === 'supports') return;
    for (const node of [...rule.nodes].reverse()) {
      if (node.type !== 'decl') continue;
      const kinds = KINDS.filter((k) => k.is.test(node.value));
      if (kinds.length === 0 || rule.nodes.some((n) => n !== node && n.type === 'decl' && n.prop === node.prop)) continue;
      const made = rule.clone();
      made.removeAll();
      made.append(node.clone());
      const newer = atRule(kinds.map((k) => k.known).join(' and '));
      if (rule.source) newer.source = rule.source;
      newer.append(made);
      rule.after(newer);
      node.value = kinds.reduce((value, k) => k.older(value), node.value);
    }
  });
}

/** @param sheets the text of all sheets: what one says of a box holds for the gap that another gives it */
export function forOlderScreens(sheets: readonly string[] = []): Plugin {
  const elsewhere: Known = new Map();
  for (const text of sheets) learn(elsewhere, postcss.parse(text));
  // A bare "li" is another thing in every sheet.
  for (const name of [...elsewhere.keys()]) if (!name.startsWith('.')) elsewhere.delete(name);
  return {
    postcssPlugin: 'for-older-screens',
    OnceExit(root, { AtRule: Made }) {
      const supports = (params: string): AtRule => new Made({ name: 'supports', params, nodes: [] });
      withEachSide(root);
      withMargins(root, elsewhere);
      withTransforms(root, supports);
      withOlderValues(root, supports);
    },
  };
}
