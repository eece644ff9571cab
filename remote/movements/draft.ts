/** Owns making a movement out of what was filled in; what does not fit gets a sentence that names its field. */
import { type Movement, movementSchema, type Need, needs } from '../../shared/movement/movement.ts';

export type Drafted = { readonly movement: Movement } | { readonly problem: string };

export const labels: Readonly<Record<string, string>> = {
  name: 'Name', id: 'Name', otherNames: 'Other names', start: 'Begins', end: 'Ends', pattern: 'Pattern', impact: 'Impact', sides: 'Sides', suits: 'Suits', areas: 'Areas',
  tempoS: 'Seconds for one', leastS: 'Worth doing for at least', setUp: 'Set-up', action: 'Action', cues: 'Cues', lookFor: 'Look for', option: 'Option', build: 'Build',
  phrases: 'Words for the sides', forNeeds: 'Options for needs', askFirst: 'Ask first', intensity: 'Intensity',
};

/** "Überkopf-Schritt 2" becomes "uberkopf-schritt-2": the name of the file. */
export const idOf = (name: string): string =>
  name.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 60).replace(/-+$/, '');

export function draft(form: FormData): Drafted {
  const text = (name: string): string => String(form.get(name) ?? '').trim();
  const lines = (name: string): string[] => text(name).split('\n').map((l) => l.trim()).filter(Boolean);
  const way = (name: string) => (text(`${name}-to`) ? { words: text(name), movement: text(`${name}-to`) } : { words: text(name) });
  const id = idOf(text('name'));
  if (!id) return { problem: 'Name: it needs at least one letter from a to z or a digit, for the name of its file.' };
  const held = text('held') === 'yes';
  const [code, met] = text('intensity').split(' ');
  const answers = needs.flatMap((n): [Need, { words: string }][] => (text(`need-${n}`) ? [[n, { words: text(`need-${n}`) }]] : []));
  const parsed = movementSchema.safeParse({
    format: 1, id, name: text('name'), otherNames: text('otherNames').split(',').map((n) => n.trim()).filter(Boolean),
    sides: text('sides'), start: text('start'), end: text('end'), impact: text('impact'), pattern: text('pattern'),
    areas: form.getAll('areas'), suits: form.getAll('suits'), leastS: Number(text('leastS')), hold: held,
    ...(held ? {} : { tempoS: Number(text('tempoS')) }),
    setUp: text('setUp'), action: text('action'), cues: lines('cues'), lookFor: lines('lookFor'), option: way('option'), build: way('build'),
    ...(text('left') && text('right') ? { phrases: { left: text('left'), right: text('right') } } : {}),
    forNeeds: Object.fromEntries(answers), askFirst: lines('askFirst'), intensity: { code, met: Number(met) },
  });
  if (parsed.success) return { movement: parsed.data };
  const issue = parsed.error.issues[0];
  const label = labels[String(issue?.path[0])] ?? 'Something';
  return { problem: `${label}: ${sentenceOf(issue, typeof issue?.path[1] === 'number')}` };
}

function sentenceOf(issue: { code?: string; origin?: string; maximum?: number | bigint; minimum?: number | bigint; message: string } | undefined, ofOne: boolean): string {
  const each = ofOne ? 'each line ' : '';
  if (issue?.code === 'too_big' && issue.origin === 'string') return `${each}at most ${issue.maximum} letters. Shorten it.`;
  if (issue?.code === 'too_big' && issue.origin === 'array') return `at most ${issue.maximum}. Leave some out.`;
  if (issue?.code === 'too_small' && issue.origin === 'array') return `at least ${issue.minimum}. Add one.`;
  if (issue?.code === 'too_small' && issue.origin === 'string') return `${each}needs words.`;
  if (issue?.code === 'invalid_value') return 'choose one.';
  return `${issue?.message ?? 'not understood'}.`;
}
