/** Owns how the options for who is here are said on the phone. */
import { expect, it } from 'vitest';
import type { OptionLine } from '../../../shared/view/options.ts';
import { optionWords } from './Options.tsx';

const line = (label: string, words: string, same = false, ask = false): OptionLine => ({ said: 'knee', label, count: 1, words, movement: null, ask, same });

it('R133 what somebody here does otherwise is said first, one line each; who does it as shown shares one line', () => {
  expect(optionWords([line('Knee', 'Bridge instead'), line('Wrist', 'Ask, or leave it out', false, true), line('Back', 'As shown', true), line('No floor', 'As shown', true)])).toEqual([
    { label: 'Knee', words: 'bridge instead', ask: false },
    { label: 'Wrist', words: 'ask, or leave it out', ask: true },
    { label: 'Back, No floor', words: 'as shown', ask: false },
  ]);
  expect(optionWords([])).toEqual([]);
});
