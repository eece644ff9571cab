/**
 * Owns the few facts of a movement that the clock and the words of a class need.
 * They travel in the log, so that a class never looks at anything outside it.
 */
import { z } from 'zod';
import { type Movement, positionSchema } from '../movement/movement.ts';

export const factsSchema = z.strictObject({
  name: z.string().min(1).max(80),
  start: positionSchema,
  end: positionSchema,
  sides: z.enum(['together', 'alternating', 'each']),
  tempoS: z.number().positive().optional(),
  /** Seconds of work, each side, below which it is not worth setting up for. */
  leastS: z.number().positive().optional(),
  phrases: z.strictObject({ left: z.string(), right: z.string() }).optional(),
  option: z.string().optional(),
});
export type Facts = z.infer<typeof factsSchema>;
export type FactsOf = Readonly<Record<string, Facts>>;

export const factsOf = (m: Movement): Facts => ({
  name: m.name,
  start: m.start,
  end: m.end,
  sides: m.sides,
  ...(m.tempoS === undefined ? {} : { tempoS: m.tempoS }),
  leastS: m.leastS,
  ...(m.phrases === undefined ? {} : { phrases: m.phrases }),
  option: m.option.words,
});

/** What is believed of a movement that nobody knows: it is done standing, both sides at once. */
export const unknownFacts = (id: string): Facts => ({ name: id, start: 'standing', end: 'standing', sides: 'together' });

export const factsFor = (facts: FactsOf, id: string): Facts => facts[id] ?? unknownFacts(id);

