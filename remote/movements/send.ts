/** Owns sending a movement's picture: the bytes as they are, with patience for a weak Wi-Fi. */
import { CLIP_MOST_BYTES } from '../../shared/limits.ts';
import type { Movement } from '../../shared/movement/movement.ts';
import { movementBodySchema, problemSchema } from '../../shared/wire/http.ts';
import type { Got } from '../common/get.ts';

const PATIENCE_MS = 60_000;

export async function sendPicture(id: string, file: File): Promise<Got<Movement>> {
  if (file.size > CLIP_MOST_BYTES) return { problem: `This file has ${(file.size / 1_048_576).toFixed(1)} MB; ${CLIP_MOST_BYTES / 1_048_576} MB is the most. Make it smaller and choose it again.` };
  try {
    const answer = await fetch(`/api/movements/${id}/picture`, {
      method: 'PUT', body: file, headers: { 'content-type': 'application/octet-stream' }, credentials: 'same-origin', signal: AbortSignal.timeout(PATIENCE_MS),
    });
    const json: unknown = await answer.json();
    if (answer.ok) return { ok: movementBodySchema.parse(json) };
    const problem = problemSchema.safeParse(json);
    return { problem: problem.success ? problem.data.error : `The studio could not keep the picture (${answer.status}). Try again.` };
  } catch {
    return { problem: 'The studio did not answer. Check that this device is in the studio\'s Wi-Fi, then send the picture again.' };
  }
}
