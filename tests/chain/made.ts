/**
 * Owns values made from a JSON Schema, one for each branch of its unions, whose texts are given words where these fit:
 * what another studio's ids are tried with, on bodies and messages that nobody listed.
 */
interface Schema { readonly $ref?: string; readonly const?: unknown; readonly enum?: readonly unknown[]; readonly anyOf?: readonly Schema[]; readonly oneOf?: readonly Schema[]; readonly allOf?: readonly Schema[]; readonly type?: string | readonly string[]; readonly properties?: Record<string, Schema>; readonly items?: Schema; readonly minItems?: number; readonly minLength?: number; readonly maxLength?: number; readonly pattern?: string; readonly minimum?: number }

/** What a text may have to look like where none of the words does. */
const USUAL = ['8a6f1d5e-3c1b-4f0a-9b3e-2d4c5b6a7f80', 'squat', '2026-01-05', '18:00', '123456', '0123456789abcdef', 'some-words-of-eight', '1', ''];

export interface Given {
  /** Tried first to last wherever a text stands. */
  readonly words: readonly string[];
  /** What stands for a shared schema, by the last part of its address. */
  readonly whole: (name: string) => unknown;
}

function text({ minLength = 0, maxLength = 1e6, pattern }: Schema, words: readonly string[]): string {
  const fits = (word: string) => word.length >= minLength && word.length <= maxLength && (pattern === undefined || new RegExp(pattern, 'u').test(word));
  const found = [...words, ...USUAL].find(fits);
  if (found === undefined) throw new Error(`no word fits ${JSON.stringify({ minLength, maxLength, pattern })}: add one to USUAL`);
  return found;
}

/** @throws an error that says what to add, where a schema asks for what is not known here */
export function made(schema: Schema, given: Given): unknown[] {
  if (schema.$ref !== undefined) return [given.whole(schema.$ref.split('/').at(-1) ?? '')];
  if ('const' in schema) return [schema.const];
  if (schema.enum) return [...schema.enum];
  const branches = schema.anyOf ?? schema.oneOf;
  if (branches) return branches.flatMap((branch) => made(branch, given));
  if (schema.allOf) return [Object.assign({}, ...schema.allOf.map((part) => made(part, given)[0]))];
  if (Array.isArray(schema.type)) return schema.type.flatMap((type: string) => made({ ...schema, type }, given));
  switch (schema.type) {
    case 'string': return [text(schema, given.words)];
    case 'integer': case 'number': return [Math.max(schema.minimum ?? 1, 1)];
    case 'boolean': return [true];
    case 'null': return [null];
    case 'array': return [Array.from({ length: Math.max(1, schema.minItems ?? 1) }, () => made(schema.items ?? {}, given)[0])];
    case 'object': {
      const all = Object.entries(schema.properties ?? {}).map(([name, part]) => [name, made(part, given)] as const);
      const first = Object.fromEntries(all.map(([name, [value]]) => [name, value]));
      // Every branch of every part once, the other parts as in their first.
      return [first, ...all.flatMap(([name, [, ...others]]) => others.map((value) => ({ ...first, [name]: value })))];
    }
    default: throw new Error(`a schema that is not known here: ${JSON.stringify(schema).slice(0, 200)}`);
  }
}
