/** Owns what phone and desk know beside the class: the studio's plans and the words of its movements. */
import { useEffect, useRef, useState } from 'react';
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

/**
 * The library as soon as it is there; empty until then, for a class runs without it. Asked for again
 * with every class: the studio may have made a movement of its own since.
 */
export function useLibrary(classId: string | null): Library {
  const [got, again] = useGet('/api/movements', movementsSchema);
  const [library, keep] = useState(emptyLibrary);
  const askedFor = useRef(classId);
  useEffect(() => { if (got && 'ok' in got) keep(libraryOf(got.ok.movements)); }, [got]);
  useEffect(() => {
    if (classId === null || askedFor.current === classId) return;
    askedFor.current = classId;
    again();
  }, [classId, again]);
  return library;
}
