/** Owns one question to the server as a React hook: waiting, an answer, or a sentence with a way to ask again. */
import { useCallback, useEffect, useState } from 'react';
import type { z } from 'zod';
import { ask, AWAY, type Got } from './get.ts';

/** A server that is away or busy is asked again after this. */
const AGAIN_MS = 3_000;

/** Null while it waits; `again` asks once more; where nothing came back it asks again by itself, with the sentence standing meanwhile. A null path asks nothing. */
export function useGet<T>(path: string | null, schema: z.ZodType<T>): readonly [Got<T> | null, () => void] {
  const [got, setGot] = useState<{ path: string; answer: Got<T> } | null>(null);
  const [turn, setTurn] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new turn asks again
  useEffect(() => {
    if (path === null) return;
    let here = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    void ask(path, schema).then((answer) => {
      if (!here) return;
      setGot({ path, answer });
      if ('problem' in answer && answer.problem === AWAY) timer = setTimeout(() => setTurn((t) => t + 1), AGAIN_MS);
    });
    return () => { here = false; clearTimeout(timer); };
  }, [path, schema, turn]);
  const again = useCallback(() => { setGot(null); setTurn((t) => t + 1); }, []);
  return [got && got.path === path ? got.answer : null, again];
}
