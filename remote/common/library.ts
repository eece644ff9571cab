/** Owns what phone and desk know beside the class: the studio's plans and the words of its movements. */
import { useMemo } from 'react';
import type { Movement } from '../../shared/movement/movement.ts';
import { type FactsOf, factsOf } from '../../shared/plan/facts.ts';
import { movementsSchema } from '../../shared/wire/http.ts';
import { useGet } from './use-get.ts';

export interface Library {
  readonly movements: ReadonlyMap<string, Movement>;
  readonly facts: FactsOf;
}

export const libraryOf = (movements: readonly Movement[]): Library => ({
  movements: new Map(movements.map((m) => [m.id, m])),
  facts: Object.fromEntries(movements.map((m) => [m.id, factsOf(m)])),
});

export const emptyLibrary: Library = libraryOf([]);

/** The library as soon as it is there; empty until then, for a class runs without it. */
export function useLibrary(): Library {
  const [got] = useGet('/api/movements', movementsSchema);
  return useMemo(() => (got && 'ok' in got ? libraryOf(got.ok.movements) : emptyLibrary), [got]);
}
