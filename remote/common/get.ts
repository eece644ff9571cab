/** Owns asking the server over HTTP: one answer read through its schema, or a sentence for a person. */
import type { z } from 'zod';
import { problemSchema } from '../../shared/wire/http.ts';

/** @property status of the answer that says no; none where nothing came back or it was not understood */
export type Got<T> = { readonly ok: T } | { readonly problem: string; readonly status?: number };

/** The studio's server answers in its own network; longer than this means that nobody is there. */
const PATIENCE_MS = 8_000;
/** Said when nothing came back: whoever asked may ask again by itself. */
export const AWAY = 'The studio did not answer. Check that this phone is in the studio\'s Wi-Fi, then try again.';

export async function ask<T>(path: string, schema: z.ZodType<T>, body?: unknown, method: 'POST' | 'PUT' = 'POST'): Promise<Got<T>> {
  const init: RequestInit = body === undefined ? {}
    : { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
  try {
    const answer = await fetch(path, { ...init, credentials: 'same-origin', signal: AbortSignal.timeout(PATIENCE_MS) });
    const json: unknown = await answer.json();
    if (!answer.ok) {
      const problem = problemSchema.safeParse(json);
      return { problem: problem.success ? problem.data.error : `The studio could not answer (${answer.status}). Try again.`, status: answer.status };
    }
    const read = schema.safeParse(json);
    return read.success ? { ok: read.data } : { problem: 'The studio answered in a way that this page does not know. Reload the page.' };
  } catch {
    return { problem: AWAY };
  }
}
