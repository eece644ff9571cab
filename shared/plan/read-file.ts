/**
 * Owns reading a plan that comes from elsewhere: what is a plan of ours is used, what
 * is not is left out and said, and what cannot be left out is refused with its place.
 * Leaves alone whether it is wise (coach) and where it is kept.
 */
import type { z } from 'zod';
import { PLAN_FORMAT, type Plan, planSchema } from './plan.ts';

export type ReadPlan =
  | { readonly plan: Plan; /** What could not be used, in sentences. */ readonly leftOut: readonly string[] }
  | { readonly refused: string; /** As in the file. */ readonly path: string };

const partWords: Readonly<Record<string, string>> = { sections: 'section', items: 'movement', waived: 'waiver', seconds: 'step', reps: 'step' };

/** "section 2, movement 3, work": where somebody looks for it. */
export function placeWords(path: readonly PropertyKey[]): string {
  const words: string[] = [];
  path.forEach((part, i) => {
    if (typeof part === 'number') words[words.length - 1] = `${partWords[String(path[i - 1])] ?? String(path[i - 1])} ${part + 1}`;
    else words.push(String(part));
  });
  return words.join(', ');
}

const kinds: Readonly<Record<string, string>> = { number: 'a number', int: 'a whole number', string: 'words', array: 'a list', object: 'a block of fields', boolean: 'true or false' };
type Issue = z.core.$ZodIssue;

/** What is wrong and what to do, without the place. */
export function issueWords(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      if (issue.input === undefined && issue.expected !== 'number') return `${kinds[issue.expected] ?? issue.expected} should stand here; write it or leave the whole part out`;
      return `${kinds[issue.expected] ?? issue.expected} should stand here, for instance ${issue.expected === 'number' || issue.expected === 'int' ? '40' : issue.expected === 'string' ? '"Squats"' : 'as in an exported plan'}`;
    case 'unrecognized_keys': return `${issue.keys.map((k) => `"${k}"`).join(', ')} is no field of a plan; take it out`;
    case 'invalid_value': return !/^Invalid/.test(issue.message) ? issue.message : `it should be one of ${issue.values.map((v) => `"${String(v)}"`).join(', ')}`;
    case 'too_big':
      if (issue.origin === 'string') return `at most ${issue.maximum} letters; shorten it`;
      if (issue.origin === 'array') return `at most ${issue.maximum}; take some out`;
      return /^Too big/.test(issue.message) ? `at most ${issue.maximum}` : issue.message;
    case 'too_small':
      if (!/^Too small/.test(issue.message)) return issue.message;
      return issue.origin === 'string' ? 'it is empty; write something or leave the field out' : `at least ${issue.minimum}`;
    case 'invalid_union': {
      const inner = issue.errors.flat().find((i) => i.code !== 'invalid_type' && i.code !== 'invalid_value');
      if (inner) return issueWords(inner as Issue);
      return 'it is none of what may stand here: a number, or a ladder such as {"seconds": [20, 30, 20]}';
    }
    default: return issue.message;
  }
}

/** One sentence about the first of what is wrong: what, where, and how many more. */
export function refusalOf(error: z.ZodError): { readonly error: string; readonly path: string } {
  const issue = error.issues[0];
  if (!issue) return { error: 'This is no plan.', path: '' };
  const more = error.issues.length - 1;
  const place = placeWords(issue.path);
  return { error: `This plan cannot be kept${place === '' ? '' : `; at ${place}`}: ${issueWords(issue)}${more > 0 ? ` (and ${more} more)` : ''}.`, path: issue.path.map(String).join('.') };
}

/** Deep copies that lose the keys that are not known; each is told. */
function without(json: unknown, issues: readonly Issue[], leftOut: string[]): unknown {
  const copy: unknown = JSON.parse(JSON.stringify(json));
  for (const issue of issues) {
    if (issue.code !== 'unrecognized_keys') continue;
    let at = copy;
    for (const part of issue.path) at = (at as Record<PropertyKey, unknown> | undefined)?.[part];
    if (typeof at !== 'object' || at === null) continue;
    for (const key of issue.keys) {
      delete (at as Record<string, unknown>)[key];
      const place = placeWords(issue.path);
      leftOut.push(`"${key}"${place === '' ? '' : ` of ${place}`} is no field of a plan and was left out.`);
    }
  }
  return copy;
}

/** @param json what the file holds @param known whether the library has a movement */
export function readPlanFile(json: unknown, known: (movement: string) => boolean): ReadPlan {
  if (typeof json !== 'object' || json === null || Array.isArray(json)) return { refused: 'This file holds no plan. A plan begins with { "format": 1, "id": …', path: '' };
  const { $schema: _schema, ...given } = json as Record<string, unknown>;
  if (given.format === undefined) return { refused: `This file does not say "format": ${PLAN_FORMAT}, so it is no plan of Hallclock.`, path: 'format' };
  const leftOut: string[] = [];
  const first = planSchema.safeParse(given);
  const parsed = first.success ? first : planSchema.safeParse(without(given, first.error.issues, leftOut));
  if (!parsed.success) {
    const { error, path } = refusalOf(parsed.error);
    return { refused: error, path };
  }
  const sections = parsed.data.sections.flatMap((s, k) => {
    const items = s.items.filter((item, i) => {
      const there = known(item.movement);
      if (!there) leftOut.push(`Section ${k + 1}, movement ${i + 1}: the library has no "${item.movement}", so it was left out.`);
      return there;
    });
    if (s.talk !== undefined || items.length > 0) return [{ ...s, items }];
    leftOut.push(`Section ${k + 1} had none of our movements and was left out.`);
    return [];
  });
  const plan = planSchema.safeParse({ ...parsed.data, sections });
  if (plan.success) return { plan: plan.data, leftOut };
  return { refused: `Without the movements that the library does not have nothing is left to run. ${leftOut[0] ?? ''}`.trim(), path: 'sections' };
}
