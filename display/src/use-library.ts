/** Owns the movements on the screen: fetched beside the class, which runs without them. */
import { useEffect, useState } from 'react';
import type { Library } from '../../shared/movement/movement.ts';
import { ask } from './ask.ts';

const none: Library = new Map();
/** The words of the class come with it; only bodies and cues wait for this. */
const AGAIN_MS = 5_000;

/** Asked for again with every class: the studio may have made a movement of its own since. */
export function useLibrary(live: boolean, classId: string | null): Library {
  const [library, keep] = useState(none);
  const [keptFor, setKeptFor] = useState<string | null | undefined>();
  const [tries, tryAgain] = useState(0);
  const known = keptFor === classId || (classId === null && keptFor !== undefined);
  useEffect(() => {
    if (!live || known) return;
    const stop = new AbortController();
    let timer: ReturnType<typeof setTimeout> | undefined;
    fetchLibrary(stop.signal).then((fetched) => {
      keep(fetched);
      setKeptFor(classId);
    }).catch(() => {
      if (!stop.signal.aborted) timer = setTimeout(() => tryAgain(tries + 1), AGAIN_MS);
    });
    return () => {
      stop.abort();
      clearTimeout(timer);
    };
  }, [live, known, classId, tries]);
  return library;
}

async function fetchLibrary(signal: AbortSignal): Promise<Library> {
  const { movements } = await ask('/api/movements', signal);
  return new Map(movements.map((m) => [m.id, m]));
}
