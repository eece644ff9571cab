/**
 * Owns what paper says of one movement again and again: sets ("squat 3x10", "3 sets of 10 squats") and turns that begin
 * at fixed times ("every minute: 10 squats for 8 min"). A plan has rounds of a section, so sets of several movements are
 * rounds through all of them, or sections of their own; a turn is its work, as long as its counts take, and rest until the next; it ends by the clock, or the next would not begin when it should.
 */
import { PLAN_MOST_S, REST_LEAST_MS, ROUNDS_MAX } from '../../limits.ts';
import type { Library } from '../../movement/movement.ts';
import { longS } from '../words.ts';
import { askAt, type Draft, type ItemDraft, type SectionDraft } from './draft.ts';

/** Turns that are taken where nobody wrote how many: common practice, no source. */
const TURNS = 8;
/** Rest after a set where nobody wrote one: common practice, no source. */
const REST_S = 30;
/** The part of a turn that is work where no count is written: common practice, no source. */
const WORK_PART = 2 / 3;
/** Least rest that is left in a turn, as in a class that is late. */
const LEFT_S = REST_LEAST_MS / 1_000;

/** What is written before the movements holds for each that says nothing of its own. */
const spread = (s: SectionDraft): SectionDraft => {
  const { sets } = s;
  return { ...s, fields: { ...s.fields }, items: sets ? s.items.map((i) => (i.sets || i.work !== undefined || i.target || i.bare !== undefined ? i : { ...i, sets })) : s.items };
};

/** Sections of which each can be said by a plan: where sets of their movements differ, or are wanted one after the other, each movement has its own. */
export function withSets(sections: readonly SectionDraft[], d: Draft, putIn: (s: SectionDraft) => (answer: string) => string): SectionDraft[] {
  return sections.flatMap((given) => {
    const s = spread(given);
    if (s.items.some((i) => i.sets && i.rest === undefined) && s.fields.rest === undefined && s.betweenRounds === undefined && s.every === undefined) {
      const into = putIn(s);
      s.fields.rest = REST_S;
      askAt(d, s.headTo, s.headTo, `How long is the rest after each set? ${REST_S} s are taken.`, [20, REST_S, 60, 90].map((r) => ({ label: `${r} s`, text: into(`rest ${r} s`) })));
    }
    const counts = new Set(s.items.flatMap((i) => (i.sets ? [i.sets.rounds] : [])));
    const [rounds] = counts;
    if (rounds === undefined || s.fields.rounds === rounds) return [s];
    if (s.fields.rounds !== undefined) {
      for (const { sets } of s.items) if (sets && sets.rounds !== s.fields.rounds) askAt(d, sets.from, sets.to, `The section has its own rounds already; ${sets.rounds} sets within each round cannot be said. Once each round is taken.`, [{ label: 'Once each round', text: sets.unit === 's' ? `${sets.n} s` : `${sets.n} reps` }]);
      return [s];
    }
    const apart = s.fields.way === undefined || s.fields.way === 'together';
    if (!apart || (counts.size === 1 && s.items.every((i) => i.sets) && s.straight !== true)) {
      // A superset or a circuit goes round by its name.
      if (apart && s.items.length > 1 && !s.part) {
        const into = putIn(s);
        askAt(d, s.headTo, s.headTo, `${rounds} sets of each: in rounds, or all of one before the next? Rounds are taken.`, [{ label: `${rounds} rounds`, text: into(`${rounds} rounds`) }, { label: 'All of one before the next', text: into('straight sets') }]);
      }
      return [{ ...s, fields: { ...s.fields, rounds } }];
    }
    return s.items.map((item, k): SectionDraft => ({
      ...s, items: [item], asked: k === 0 ? s.asked : 0, named: s.named && k === 0,
      fields: { ...s.fields, ...(k === 0 ? {} : { name: undefined }), rounds: item.sets?.rounds ?? 1 },
    }));
  });
}

/** Seconds that the counts of one movement take, both sides where it is done on each; null where no count is written. */
function takes(i: ItemDraft, library: Library): number | null {
  const m = library.get(i.movement);
  const each = i.sides === 'full' ? 2 : 1;
  if (i.work !== undefined) return i.work * each;
  return i.target ? Math.max(1, Math.round(i.target.n * (i.target.of === 'breaths' ? 5 : (m?.tempoS ?? 3)))) * each : null;
}

/** The same section as rounds of work and rest, when its turns begin at fixed times. Items have their counts already. */
export function inTurns(s: SectionDraft, items: readonly ItemDraft[], d: Draft, library: Library, putIn: (answer: string) => string): { fields: SectionDraft['fields']; items: ItemDraft[] } {
  const every = s.every ?? 60;
  const { length: n } = items;
  const worked = items.map((i): ItemDraft => {
    const seconds = takes(i, library);
    if (seconds === null) {
      const work = Math.round(every * WORK_PART);
      askAt(d, i.to, i.to, `How many of it every ${every === 60 ? 'minute' : longS(every)}? ${work} s of work are taken.`, ['8 reps', '10 reps', '12 reps', `${work} s`].map((a) => ({ label: a, text: ` ${a}` })));
      return { ...i, work, rest: every - work, ends: 'clock' };
    }
    if (seconds > every - LEFT_S) askAt(d, i.from, i.to, `${library.get(i.movement)?.name ?? `"${i.movement}"`}: that takes about ${longS(seconds)}, and a turn has ${longS(every)}. Write fewer, or a longer turn.`);
    const each = i.sides === 'full' ? seconds / 2 : seconds;
    return { ...i, work: each, rest: Math.max(0, every - seconds), ends: 'clock' };
  });
  const lasts = s.lasts ?? s.length;
  const written = typeof s.fields.rounds === 'number' ? s.fields.rounds : null;
  const turns = lasts === undefined ? null : lasts / every;
  const rounds = Math.min(ROUNDS_MAX, Math.max(1, written ?? Math.round((turns ?? TURNS) / n)));
  if (written === null && turns === null) {
    const some = [6, TURNS, 10, 12].map((k) => Math.max(1, Math.round(k / n)) * n * every).filter((t, k, all) => all.indexOf(t) === k && t <= PLAN_MOST_S);
    askAt(d, s.headTo, s.headTo, `For how long? ${longS(rounds * n * every)} are taken.`, some.map((t) => ({ label: longS(t), text: putIn(`for ${t % 60 === 0 ? `${t / 60} min` : `${t} s`}`) })));
  } else if (turns !== null && written === null && rounds * n !== turns) {
    askAt(d, s.headTo, s.headTo, `${longS(lasts ?? 0)} ${Number.isInteger(turns) ? `are ${turns} turns, which ${n} movements do not share out evenly` : `are no whole number of turns of ${longS(every)}`}. ${longS(rounds * n * every)} are taken.`);
  }
  return { fields: { ...s.fields, rounds }, items: worked };
}
