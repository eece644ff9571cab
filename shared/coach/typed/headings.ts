/** Owns the words that begin a section: the kinds themselves, their short forms, and what instructors call a part of the main work. */
import type { Section } from '../../plan/plan.ts';

export interface Heading {
  readonly kind: Section['kind'];
  readonly name?: string;
  readonly says: string;
  /** A part of the main work, which has movements. */
  readonly part: boolean;
}

const end = '(?![\\p{L}\\p{N}])';
/** A heading that is also a word of movements begins a section only where nothing but a length or a colon follows it. */
const alone = '(?=[^\\S\\n]*(?:$|[\\n:(\\d–—-]))';
const kinds = ([
  [`(?:warm(?:ing)?[- ]?ups?|w\\/?-?u|mobility|activation)${end}`, 'warm-up'],
  [`(?:main(?: part| block| set)?)${end}`, 'main'],
  [`(?:(?:cool|warm|wind)(?:ing)?[- ]?downs?|c\\/?-?d)${end}`, 'cool-down'],
  [`(?:final |cool-?down )?stretch(?:es|ing)?${end}${alone}`, 'cool-down'],
  [`clear[- ]?up${end}`, 'clear-up'],
  [`(?:welcome|intro(?:duction)?)${end}`, 'welcome'],
  [`(?:water|drinks?)(?: break)?${end}`, 'main', 'Water'],
  // What has a letter or number of its own is called by it; the same without one says only that a part begins.
  [`(?:circuit|block|super[- ]?set|tri[- ]?set|part|section|set|round|group) ?(?:\\d{1,2}|[a-h])${end}(?! ?(?:x|×|rounds?|rds?|s|secs?|seconds?|mins?|minutes?|m|')${end})`, 'main', ''],
  [`(?:circuit|block|super[- ]?set|tri[- ]?set|finisher)${end}`, 'main'],
  [`(?:cardio|strength|core|abs|legs|arms|(?:upper|lower|full|whole)[- ]body|balance)${end}${alone}`, 'main', ''],
] as readonly (readonly [string, Section['kind'], string?])[]).map(([source, kind, name]) => ({ re: new RegExp(source, 'iuy'), kind, name }));

/** The heading that begins at `at`, and how many letters it has; null where none does. */
export function headingAt(text: string, at: number): { heading: Heading; length: number } | null {
  for (const { re, kind, name } of kinds) {
    re.lastIndex = at;
    const said = re.exec(text)?.[0];
    if (!said) continue;
    const called = name === '' ? said.charAt(0).toUpperCase() + said.slice(1) : name;
    return { heading: { kind, part: kind === 'main' && name !== 'Water' && !/^main/i.test(said), says: name === 'Water' ? 'water' : (called ?? kind), ...(called === undefined ? {} : { name: called }) }, length: said.length };
  }
  return null;
}
