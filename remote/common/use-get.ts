/** Owns one question to the server as a React hook: waiting, an answer, or a sentence with a way to ask again. */
import { useCallback, useEffect, useState } from 'react';
import type { z } from 'zod';
import { ask, type Got } from './get.ts';

/** Null while it waits; `again` asks once more. A null path asks nothing. */
export function useGet<T>(path: string | null, schema: z.ZodType<T>): readonly [Got<T> | null, () => void] {
  const [got, setGot] = useState<{ path: string; answer: Got<T> } | null>(null);
  const [turn, setTurn] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new turn asks again
  useEffect(() => {
    if (path === null) return;
    let here = true;
    void ask(path, schema).then((answer) => { if (here) setGot({ path, answer }); });
    return () => { here = false; };
  }, [path, schema, turn]);
  const again = useCallback(() => { setGot(null); setTurn((t) => t + 1); }, []);
  return [got && got.path === path ? got.answer : null, again];
}
