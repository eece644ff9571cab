/**
 * Owns what a studio has to have ready for the bad minute, as it is kept, sent and shown.
 * Hallclock teaches no first aid: local rules and trained people come first, everywhere.
 * GET and PUT /api/emergency; writing needs the cookie of a paired browser.
 */
import { z } from 'zod';
import { NOTE_MAX } from '../limits.ts';

const line = z.string().trim().max(120, 'at most 120 letters').default('');

export const emergencySchema = z.strictObject({
  /** Where a caller says that help has to come to. */
  address: line,
  floor: line,
  door: line,
  /** The number to call here; digits, and what people write between them. */
  number: z.string().trim().max(20, 'at most 20 digits').regex(/^[\d +()/-]*$/, 'a number has digits only').default(''),
  defibrillator: line,
  firstAid: line,
  wayOut: line,
  meetingPoint: line,
  /** What the place, its law or its trained people want done first. */
  localRules: z.string().trim().max(NOTE_MAX, `at most ${NOTE_MAX} letters`).default(''),
});
export type Emergency = z.infer<typeof emergencySchema>;
export const noEmergency: Emergency = emergencySchema.parse({});

export const LOCAL_RULES_FIRST = 'Local rules and trained people first.';

/** In the order in which a caller says them and somebody fetches them; what is asked of the studio. */
export const emergencyWords: readonly (readonly [keyof Emergency, string])[] = [
  ['number', 'the emergency number'], ['address', 'the address'], ['floor', 'the floor'], ['door', 'the door'],
  ['defibrillator', 'where the defibrillator is'], ['firstAid', 'where the first-aid box is'],
  ['wayOut', 'the way out'], ['meetingPoint', 'the meeting point'],
];

/** What is still missing, in words; local rules may well be none. */
export const missingIn = (e: Emergency): string[] => emergencyWords.filter(([key]) => e[key] === '').map(([, words]) => words);

/** What a telephone calls. */
export const telephone = (e: Emergency): string => `tel:${e.number.replace(/[^\d+]/g, '')}`;
