/**
 * Owns what the browsers of the build's targets know, as MDN's browser-compat-data has it (a package):
 * names of JavaScript and of the web's interfaces, properties, selectors and units of CSS.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

interface Support { readonly version_added: string | boolean | null; readonly version_removed?: string; readonly flags?: unknown; readonly prefix?: string; readonly alternative_name?: string; readonly partial_implementation?: boolean }
interface Feature { readonly __compat?: { readonly support: Record<string, Support | Support[]> }; readonly [name: string]: unknown }
interface Data { readonly javascript: { readonly builtins: Record<string, Feature> }; readonly api: Record<string, Feature>; readonly css: { readonly properties: Record<string, Feature>; readonly selectors: Record<string, Feature>; readonly 'at-rules': Record<string, Feature> } }

const data = JSON.parse(readFileSync(createRequire(import.meta.url).resolve('@mdn/browser-compat-data'), 'utf8')) as Data;
/** What targets.ts says, for those of them that the data knows by these names. */
const oldest: Readonly<Record<string, number>> = { chrome: 79, safari: 13.1 };

const number = (version: Support['version_added']): number =>
  (version === true ? 0 : typeof version === 'string' ? Number.parseFloat(version.replace('≤', '')) : Number.POSITIVE_INFINITY);

/** Whether all targets know it, without a flag or a prefix. */
export function known(feature: Feature | undefined): boolean {
  const support = feature?.__compat?.support;
  if (!support) return true;
  return Object.entries(oldest).every(([browser, version]) =>
    [support[browser] ?? []].flat().some((s) => !s.flags && !s.prefix && !s.alternative_name && !s.version_removed && number(s.version_added) <= version));
}

/** Names that are in the data, and whether any thing of that name is known to all targets. */
function namesIn(groups: readonly Record<string, Feature>[]): { readonly own: Map<string, boolean>; readonly members: Map<string, boolean> } {
  const own = new Map<string, boolean>();
  const members = new Map<string, boolean>();
  const add = (to: Map<string, boolean>, name: string, feature: Feature) => to.set(name, (to.get(name) ?? false) || known(feature));
  for (const group of groups) {
    for (const [name, feature] of Object.entries(group)) {
      if (name === '__compat') continue;
      if (feature.__compat) add(own, name, feature);
      for (const [member, inner] of Object.entries(feature)) if (member !== '__compat' && (inner as Feature).__compat) add(members, member.replace(/_static$/, ''), inner as Feature);
    }
  }
  return { own, members };
}

const scripts = namesIn([data.javascript.builtins, data.javascript.builtins.Intl as unknown as Record<string, Feature>, data.api]);
/** "MutationObserver": false where some target lacks it; undefined where it is no name of the platform's. */
export const globalKnown = (name: string): boolean | undefined => scripts.own.get(name);
/** ".at(": false where no thing of that name is known to all targets. */
export const methodKnown = (name: string): boolean | undefined => scripts.members.get(name);

/** Whether all targets know a declaration: the property, and what stands in its value. */
export function declarationUnknown(prop: string, value: string): string | null {
  if (prop.startsWith('--') || prop.startsWith('-')) return valueUnknown(value);
  const property = data.css.properties[prop];
  return property && !known(property) ? prop : valueUnknown(value);
}

/** Units and functions by when browsers learned them; MDN keeps these at several places. */
const late = [/\b\d[\d.]*[dsl]v(?:h|w|min|max)\b/, /\b\d[\d.]*cq(?:w|h|i|b|min|max)\b/, /\b(?:color-mix|oklch|oklab|lab|lch|light-dark|round|mod|rem|abs|sign|sin|cos|image-set)\(/, /\b\d[\d.]*(?:lh|rlh)\b/];
function valueUnknown(value: string): string | null {
  const bare = value.replace(/url\("[^"]*"\)|"[^"]*"/g, '');
  return late.map((l) => l.exec(bare)?.[0]).find((found) => found !== undefined) ?? null;
}

/** A pseudo-class or element that some target does not know: a browser drops the whole rule for it. */
export function selectorUnknown(selector: string): string | null {
  const names = [...selector.replace(/\[[^\]]*\]/g, '').matchAll(/::?([a-z-]+)/g)].map((m) => m[1] ?? '');
  return names.find((name) => data.css.selectors[name] && !known(data.css.selectors[name])) ?? null;
}
export const atRuleKnown = (name: string): boolean => known(data.css['at-rules'][name]);
