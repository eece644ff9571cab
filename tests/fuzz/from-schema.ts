/**
 * Owns messages made from our own schemas: right ones, and nearly right ones. A schema
 * is read as JSON Schema 2020-12, which zod writes; what that cannot say (a refinement) is
 * left to the server to refuse.
 */
import { z } from 'zod';
import { anything, type Chance } from './chance.ts';

interface Json {
  readonly type?: string; readonly const?: unknown; readonly enum?: readonly unknown[]; readonly anyOf?: readonly Json[]; readonly oneOf?: readonly Json[];
  readonly allOf?: readonly Json[]; readonly properties?: Readonly<Record<string, Json>>; readonly required?: readonly string[]; readonly items?: Json;
  readonly minimum?: number; readonly maximum?: number; readonly format?: string; readonly maxLength?: number; readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, Json>>;
}

export const jsonOf = (schema: z.ZodType): Json => z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as Json;

const hex = (chance: Chance, n: number) => Array.from({ length: n }, () => chance.below(16).toString(16)).join('');

/** A value that the schema allows, as far as JSON Schema says. */
export function rightOne(json: Json, chance: Chance, root: Json = json): unknown {
  if (json.$ref) return rightOne(root.$defs?.[json.$ref.split('/').at(-1) ?? ''] ?? {}, chance, root);
  if ('const' in json) return json.const;
  if (json.enum) return chance.one(json.enum);
  const some = json.anyOf ?? json.oneOf;
  if (some) return rightOne(chance.one(some), chance, root);
  if (json.allOf) return Object.assign({}, ...json.allOf.map((part) => rightOne(part, chance, root)));
  switch (json.type) {
    case 'object': return Object.fromEntries(Object.entries(json.properties ?? {})
      .filter(([key]) => json.required?.includes(key) || chance.happens(0.5)).map(([key, part]) => [key, rightOne(part, chance, root)]));
    case 'array': return Array.from({ length: chance.below(4) }, () => rightOne(json.items ?? {}, chance, root));
    case 'integer': case 'number': return Math.max(json.minimum ?? 0, Math.min(json.maximum ?? 1e6, chance.below(100)));
    case 'boolean': return chance.happens(0.5);
    case 'null': return null;
    case 'string': return json.format === 'uuid'
      ? `${hex(chance, 8)}-${hex(chance, 4)}-4${hex(chance, 3)}-a${hex(chance, 3)}-${hex(chance, 12)}` : chance.one(['garden', 'forty-twenty', '0.1.0.work~0', 'x']);
    default: return anything(chance, 3);
  }
}

/** The same with one thing wrong: a value changed, a key too many, a key left out, or something else entirely. */
export function nearlyRight(value: unknown, chance: Chance): unknown {
  if (typeof value !== 'object' || value === null || chance.happens(0.15)) return anything(chance);
  const entries = Object.entries(value);
  const key = entries.length > 0 ? chance.one(entries)[0] : '';
  if (Array.isArray(value)) return value.map((part, k) => (String(k) === key ? nearlyRight(part, chance) : part));
  switch (chance.below(3)) {
    case 0: return Object.fromEntries(entries.filter(([k]) => k !== key));
    case 1: return Object.fromEntries([...entries, [chance.one(['__proto__', 'constructor', 'extra', 'type']), anything(chance)]]);
    default: return Object.fromEntries(entries.map(([k, part]) => [k, k === key ? nearlyRight(part, chance) : part]));
  }
}
