/**
 * Owns the one question after a class: who may answer and until when. Kept are counts, no
 * more. So that a phone is counted once, its address in the studio's Wi-Fi, scrambled with
 * a secret of this class, is held in memory until the answers close; nothing of it is
 * written down, and a restart forgets it.
 */
import { createHmac, randomBytes } from 'node:crypto';
import { ANSWERS_OPEN_MS } from '../../shared/limits.ts';
import type { ClassSummary } from '../../shared/wire/http.ts';
import type { LogStore } from '../store/log-store.ts';

/** Answers to a class are open until then, and what they come to is told from then on. */
export const untilAt = (endedAt: number): number => endedAt + ANSWERS_OPEN_MS;

export type Asked = { readonly summary: ClassSummary; readonly untilAt: number } | { readonly status: number; readonly problem: string };

export function openAnswers(store: Pick<LogStore, 'summary' | 'answer'>, now: () => number) {
  const classes = new Map<string, { readonly secret: Buffer; readonly seen: Set<string>; readonly untilAt: number }>();

  async function question(id: string): Promise<Asked> {
    const summary = await store.summary(id);
    if (!summary) return { status: 404, problem: 'There is no such class. Scan the code on the screen once more.' };
    if (summary.endedAt === null || now() < summary.endedAt) return { status: 409, problem: 'This class has not ended yet. Answer when it is over.' };
    const closesAt = untilAt(summary.endedAt);
    if (now() >= closesAt) return { status: 410, problem: 'Answers to this class are closed.' };
    return { summary, untilAt: closesAt };
  }

  return {
    question,
    /** Counts one answer, or says why not. */
    take: async (id: string, rating: number, address: string): Promise<{ readonly taken: true } | { readonly status: number; readonly problem: string }> => {
      const asked = await question(id);
      if ('problem' in asked) return asked;
      for (const [old, known] of classes) if (now() >= known.untilAt) classes.delete(old);
      const known = classes.get(id) ?? { secret: randomBytes(32), seen: new Set<string>(), untilAt: asked.untilAt };
      classes.set(id, known);
      const scrambled = createHmac('sha256', known.secret).update(address).digest('base64url');
      if (known.seen.has(scrambled)) return { status: 409, problem: 'This phone has answered for this class already. Thank you.' };
      known.seen.add(scrambled);
      const counted = await store.answer(id, rating).catch(() => false);
      if (counted) return { taken: true };
      known.seen.delete(scrambled);
      return { status: 507, problem: 'The studio could not count this. Try again, or tell the instructor.' };
    },
  };
}
export type Answers = ReturnType<typeof openAnswers>;
