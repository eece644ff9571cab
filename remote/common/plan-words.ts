/** Owns how plans are described before they are held: their length, whom they are for, their sections. */
import type { Section } from '../../shared/plan/plan.ts';

const MINUTE_MS = 60_000;

/** Whole minutes, as people say how long a class is. */
export const minutes = (ms: number): string => `${Math.max(1, Math.round(ms / MINUTE_MS))} min`;

/** Where a plan is rehearsed: the screen's page, with a clock that runs faster. */
export const rehearsalOf = (plan: string): string => `/screen?rehearse=${encodeURIComponent(plan)}&rate=10`;

export const groupWords: Readonly<Record<string, string>> = { general: '', beginners: 'beginners', 'older-adults': 'older adults' };

/** "40 s work, 20 s rest, 3 rounds": how a section is taught, in the words of the trade. */
export function sectionWords(s: Section): string {
  if (s.talk !== undefined) return '';
  const rounds = typeof s.rounds === 'number' ? s.rounds : 'seconds' in s.rounds ? s.rounds.seconds.length : s.rounds.reps.length;
  const ladder = typeof s.rounds === 'number' ? '' : 'seconds' in s.rounds ? `ladder ${s.rounds.seconds.join(' ')} s` : `ladder ${s.rounds.reps.join(' ')} reps`;
  const work = s.work === undefined || s.way === 'follow-me' ? '' : s.rest ? `${s.work}/${s.rest}` : `${s.work} s each`;
  const way = s.way === 'follow-me' ? 'follow me' : s.way === 'stations' ? 'stations' : '';
  return [way, ladder || work, rounds > 1 ? `${rounds} rounds` : ''].filter(Boolean).join(', ');
}
