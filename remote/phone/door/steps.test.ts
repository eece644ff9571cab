/** Owns the order of the door check. */
import { expect, it } from 'vitest';
import { checkedWords, nextStep, steps } from './steps.ts';

it('R134 the door check has five steps, each may be left out, and it says what was found', () => {
  const walked = [steps[0]];
  for (let step = nextStep(steps[0]); step; step = nextStep(step)) walked.push(step as never);
  expect(walked).toEqual(['room', 'screen', 'sound', 'free', 'here']);
  expect(checkedWords({})).toBe('');
  expect(checkedWords({ room: 'good', sound: 'bad' })).toBe('Right room, not heard');
});
