/**
 * Owns that the screen's files carry no schema that nothing is read through: schemas stand beside the types
 * and the functions that the screen needs, and a bundler cannot know that making one does nothing else.
 * This says so of each that shared makes at its top level; what is used stays. A plugin of the build.
 */
import type { Plugin } from 'vite';

interface Part { readonly type: string; readonly start: number; readonly end: number; readonly name?: string; readonly callee?: Part; readonly object?: Part; readonly init?: Part | null; readonly declarations?: readonly Part[]; readonly declaration?: Part | null }

/** What a chain of calls begins with: "z" of z.string().min(1). */
function rootOf(part: Part): string {
  if (part.type === 'CallExpression' && part.callee) return rootOf(part.callee);
  if (part.type === 'MemberExpression' && part.object) return rootOf(part.object);
  return part.name ?? '';
}

/** A schema, or a list or an object of some. */
const isSchema = (init: Part, code: string): boolean =>
  (init.type === 'CallExpression' && /^z$|Schema$/.test(rootOf(init)))
  || (/^(?:Object|Array)Expression$/.test(init.type) && /\bz\.|\.optional\(\)/.test(code.slice(init.start, init.end)));

export const withoutSchemas = (): Plugin => ({
  name: 'without-schemas',
  enforce: 'post',
  transform(code, id) {
    if (!id.includes('/shared/') || !code.includes('zod')) return null;
    const { body } = this.parse(code) as unknown as { body: readonly Part[] };
    const made = body.flatMap((statement) => (statement.declaration ?? statement).declarations ?? [])
      .flatMap(({ init }) => (init && isSchema(init, code) ? [init] : []));
    return { code: made.reduceRight((text, { start, end }) => `${text.slice(0, start)}/* @__PURE__ */ (() => (${text.slice(start, end)}))()${text.slice(end)}`, code), map: null };
  },
});
