/**
 * Owns asking the server for something on the screen. The server has read it through its schema
 * and is of the same build: a screen that finds another loads itself anew (use-version.ts). So it
 * is not read through the schema a second time here, which would cost a slow screen 25 kB and
 * the time to look over every movement. Types only.
 */
import type { Plan } from '../../shared/plan/plan.ts';
import type { MovementsBody, PlansBody } from '../../shared/wire/http.ts';
import type { MusicBody } from '../../shared/wire/messages/sound.ts';

interface Answers {
  '/api/movements': MovementsBody;
  '/api/plans': PlansBody;
  '/api/music': MusicBody;
  [plan: `/api/plans/${string}`]: Plan;
}

/** Rejects where nothing comes, or a refusal. */
export async function ask<P extends keyof Answers>(path: P, signal?: AbortSignal): Promise<Answers[P]> {
  const answer = await fetch(path, signal ? { signal } : {});
  if (!answer.ok) throw new Error(`${path} answered ${answer.status}`);
  return (await answer.json()) as Answers[P];
}
