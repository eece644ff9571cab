/** Holds that what two changed otherwise is said as the editor says it, never as a file does. */
import { expect, it } from 'vitest';
import { conflictWords, headDifferences } from '../../remote/desk/plan/conflict-words.ts';
import { mergePlans } from '../../shared/plan/merge.ts';
import { type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import { library } from '../coach/library.ts';

const input: PlanInput = { format: 1, id: 'p', name: 'P', slot: 1_800, sections: [
  { id: 'hello', kind: 'welcome', talk: 60 },
  { id: 'main', kind: 'main', rounds: 3, work: 40, rest: 20, sides: 'half', items: [{ movement: 'squat' }, { movement: 'reverse-lunge' }, { movement: 'plank' }] },
] };
const base = planSchema.parse(input);
const [hello, main] = [input.sections[0] as object, input.sections[1] as object];

it('P324 both values are said in the words of the editor, with the names of the moves', () => {
  const mine = planSchema.parse({ ...input, group: 'beginners', slot: 2_700, sections: [{ ...main, sides: 'full', rounds: 4, items: [{ movement: 'squat', rest: 5 }, { movement: 'wall-sit', work: 45 }, { movement: 'plank' }] }] });
  const theirs = planSchema.parse({ ...input, group: 'older-adults', slot: 3_600, sections: [{ ...hello, talk: 120 }, { ...main, sides: 'by-round', rounds: { seconds: [40, 30] }, items: [{ movement: 'squat', rest: 10 }, { movement: 'plank' }] }] });
  expect(mergePlans(base, mine, theirs).conflicts.map((c) => Object.values(conflictWords(c, library)).join(' | '))).toEqual([
    'Who comes | Everybody | Beginners | Older adults',
    'The slot | 30 min | 45 min | 60 min',
    'The section “Welcome”, which one took out and the other changed | Welcome: talk, about 1 min | takes it out | keeps it: Welcome: talk, about 2 min',
    'The rounds of “Main” | 3 rounds | 4 rounds | a ladder of 40, 30 s',
    'The sides of “Main” | swap at half | all of it a side | one side a round',
    'The rest of squat in “Main” |  | 5 s | 10 s',
    'The movements of “Main” | Reverse lunge | Wall sit 45 s | no move',
  ]);
});

it('P324 what will be otherwise in the head of a plan is told', () => {
  expect(headDifferences(base, planSchema.parse({ ...input, note: 'Water', slot: 2_700 }), library)).toEqual(['The note: Water instead of nothing.', 'The slot: 45 min instead of 30 min.']);
});

it('P344 the order of sections is said by their names, and those of one name by what they begin with', () => {
  const three = (ids: readonly string[]) => planSchema.parse({ ...input, sections: ids.map((id) => ({ hello, main, legs: { ...main, id: 'legs', items: [{ movement: 'wall-sit' }] } }[id])) });
  const [conflict] = mergePlans(three(['hello', 'main', 'legs']), three(['main', 'hello', 'legs']), three(['hello', 'legs', 'main'])).conflicts;
  expect(conflict && conflictWords(conflict, library)).toEqual({
    where: 'The order of the sections', was: 'Welcome, Main (Squat), Main (Wall sit)', mine: 'Main (Squat), Welcome, Main (Wall sit)', theirs: 'Welcome, Main (Wall sit), Main (Squat)',
  });
});
