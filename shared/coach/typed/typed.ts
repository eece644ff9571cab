/**
 * Owns turning what instructors write on paper into a plan: what was understood
 * stands beside it, and only the rest is asked. Nothing that is typed is dropped:
 * each character that is no blank lies in an understood stretch or in a question.
 */
import { SECTIONS_MAX, TYPED_MAX } from '../../limits.ts';
import type { Library } from '../../movement/movement.ts';
import { type Plan, planSchema, type Section } from '../../plan/plan.ts';
import { longS } from '../words.ts';
import { type Ask, askAt, type Choice, type Draft, type ItemDraft, newDraft, type SectionDraft, type Understood } from './draft.ts';
import { finder } from './names.ts';
import { lengthWords } from './numbers.ts';
import { read } from './read.ts';
import { inTurns, withSets } from './turns.ts';

export type { Ask, Choice, Understood } from './draft.ts';

export interface Typed {
  /** Null where nothing could be made of it yet. */
  readonly plan: Plan | null;
  readonly understood: readonly Understood[];
  readonly asks: readonly Ask[];
}

/** A bare number from here on is seconds, below it is a count (common practice, no source). */
const SECONDS_FROM = 15;
/** What is taken where no seconds are written, and asked about. Common practice, no source. */
const usual: Readonly<Record<Section['kind'], { work: number; rest: number }>> = {
  welcome: { work: 30, rest: 0 }, 'warm-up': { work: 30, rest: 0 }, main: { work: 40, rest: 20 }, 'cool-down': { work: 30, rest: 5 }, 'clear-up': { work: 30, rest: 0 },
};

/** The text with the answer put in; read it again with `typed`. */
export const answer = (text: string, ask: Ask, choice: Choice): string => text.slice(0, ask.from) + choice.text + text.slice(ask.to);

export function typed(text: string, library: Library): Typed {
  if (text.length > TYPED_MAX) {
    const draft = newDraft();
    askAt(draft, 0, text.length, `That is ${text.length} characters; ${TYPED_MAX} is the most. Paste it in parts.`);
    return { plan: null, understood: [], asks: draft.asks };
  }
  const draft = newDraft();
  read(text, finder(library), draft);
  draft.sections = withSets(joined(draft.sections), draft, putIn);
  const sections = draft.sections.flatMap((s) => sectionOf(s, draft, library));
  const ids = new Map<string, number>();
  const made = sections.map((s) => {
    const n = (ids.get(s.kind) ?? 0) + 1;
    ids.set(s.kind, n);
    return { id: n === 1 ? s.kind : `${s.kind}-${n}`, ...s };
  });
  const understood = draft.understood.toSorted((a, b) => a.from - b.from);
  if (made.length === 0) return { plan: null, understood, asks: draft.asks };
  if (made.length > SECTIONS_MAX) askAt(draft, 0, text.length, `There are ${made.length} sections; ${SECTIONS_MAX} is the most.`);
  const { name = 'New class', ...rest } = draft.plan;
  const parsed = planSchema.safeParse({ format: 1, id: idOf(name), name, ...rest, sections: made });
  if (!parsed.success && made.length <= SECTIONS_MAX) {
    const at = draft.sections.find((_, k) => parsed.error.issues[0]?.path[1] === k);
    askAt(draft, at?.from ?? 0, at?.headTo ?? text.length, `This cannot be a plan yet: ${parsed.error.issues[0]?.message ?? 'something is missing'}.`);
  }
  return { plan: parsed.data ?? null, understood, asks: draft.asks };
}

const idOf = (name: string): string =>
  name.toLowerCase().normalize('NFKD').replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 50).replace(/-+$/, '') || 'new-class';

/** "Squat, push-up, 3 rounds": what is said of a section behind its movements belongs to it, unless it says that already. */
function joined(sections: readonly SectionDraft[]): SectionDraft[] {
  const out: SectionDraft[] = [];
  for (const s of sections) {
    const last = out.at(-1);
    const fields = Object.keys(s.fields) as (keyof typeof s.fields)[];
    const own = !last || s.named || s.items.length + s.asked > 0 || s.length !== undefined || fields.some((f) => last.fields[f] !== undefined && JSON.stringify(last.fields[f]) !== JSON.stringify(s.fields[f])) || (s.every !== undefined && last.every !== undefined) || (s.sets !== undefined && last.sets !== undefined);
    if (own) out.push(s);
    else {
      Object.assign(last.fields, s.fields);
      if (s.every !== undefined) last.every = s.every;
      if (s.lasts !== undefined) last.lasts = s.lasts;
      if (s.sets !== undefined) last.sets = s.sets;
      if (s.betweenRounds !== undefined) last.betweenRounds = s.betweenRounds;
    }
  }
  return out;
}

type Loose = Record<string, unknown> & { kind: Section['kind'] };

function sectionOf(s: SectionDraft, d: Draft, library: Library): Loose[] {
  const f = { ...s.fields };
  if (s.items.length === 0 && s.asked > 0) return [];
  if (s.items.length === 0) {
    const talk = s.length ?? f.work;
    if (s.kind === 'warm-up' || s.kind === 'cool-down' || (s.kind === 'main' && (s.part || (f.name === undefined && !s.named)))) {
      askAt(d, s.headTo, s.headTo, `Which movements are in the ${s.kind === 'main' ? 'main part' : s.kind}?`);
      return [];
    }
    if (talk === undefined) askAt(d, s.headTo, s.headTo, `How long is ${s.kind === 'main' ? 'this' : s.kind}? A minute is taken.`, ['1 min', '90 s', '2 min'].map((t) => ({ label: t, text: ` ${t}` })));
    return [clean({ kind: s.kind, name: f.name, talk: talk ?? 60 })];
  }
  if (s.every !== undefined) {
    const counted = s.items.map((i) => ({ ...i, ...itemOf(i, s, d, library) }));
    const turns = inTurns({ ...s, fields: f }, counted, d, library, putIn(s));
    return [clean({ kind: s.kind, ...turns.fields, items: turns.items.map(kept).map(clean) })];
  }
  eachOf(s, d, library);
  const timed = s.items.filter((i) => (i.work ?? i.target ?? i.bare) !== undefined);
  if (s.length !== undefined && f.work === undefined && f.way === undefined && timed.length === s.items.length && typeof f.rounds !== 'object') {
    const sum = timed.reduce((all, i) => all + takes(i, library), 0) * (f.rounds ?? 1);
    if (sum !== s.length) askAt(d, s.from, s.headTo, `${longS(s.length)} are written, and the movements by themselves come to about ${longS(sum)}. Their own times are taken; "Fit" can bring them to a length.`);
  } else if (s.length !== undefined) {
    if (f.work === undefined && typeof f.rounds !== 'object' && (f.way === undefined || f.way === 'follow-me')) Object.assign(f, { way: 'follow-me', work: s.length });
    else if (f.work === undefined) f.work = s.length;
    else askAt(d, s.from, s.headTo, `Is ${longS(s.length)} the whole section? Its movements have ${longS(f.work)} each, and that is what is taken.`);
  }
  const items = s.items.map((i) => itemOf(i, s, d, library));
  const ladder = typeof f.rounds === 'object';
  const missing = f.work === undefined && !ladder && (f.way === 'follow-me' || items.some((i) => i.work === undefined));
  if (missing) {
    const { work, rest } = usual[s.kind];
    const block = f.way === 'follow-me';
    f.work = block ? 300 : work;
    if (!block) f.rest ??= rest;
    askAt(d, s.headTo, s.headTo, block ? 'How long is the block? 5 min are taken.' : `How long is each movement? ${work} s of work and ${f.rest} s of rest are taken.`,
      (block ? ['3 min', '5 min', '6 min'] : s.kind === 'main' ? ['40/20', '30/30', '45/15'] : ['30/0', '30/5', '40/10']).map((a) => ({ label: a, text: putIn(s)(a) })));
  }
  if (s.betweenRounds !== undefined) {
    const last = items.at(-1);
    if (last && (f.way === undefined || f.way === 'together')) last.rest = s.betweenRounds;
    else askAt(d, s.from, s.headTo, `A rest of its own between rounds is for sections done together; ${longS(f.rest ?? 0)} are taken here.`);
  }
  return [clean({ kind: s.kind, ...f, items: items.map(clean) })];
}

/** "30 s each": of each side where its movement is done a side at a time, else of each movement that has no time of its own. */
function eachOf(s: SectionDraft, d: Draft, library: Library): void {
  for (const i of s.items) {
    if (!i.each) continue;
    const { each } = i;
    const u = d.understood.findIndex((k) => k.from === each.from);
    const sided = library.get(i.movement)?.sides === 'each';
    i.work ??= each.s;
    if (sided) i.sides ??= 'full';
    for (const o of sided ? [] : s.items) if ((o.work ?? o.target ?? o.bare ?? o.sets ?? o.each) === undefined) o.work = each.s;
    const known = d.understood[u];
    if (known) d.understood[u] = { ...known, says: `${longS(each.s)} ${sided ? 'each side' : 'each movement'}`, guessed: true };
  }
}

/** Seconds that one movement takes, roughly: both sides where it is done on each. */
function takes(i: ItemDraft, library: Library): number {
  const m = library.get(i.movement);
  const n = i.work ?? (i.bare !== undefined && (m?.hold || i.bare >= SECONDS_FROM) ? i.bare : (i.target?.n ?? i.bare ?? 0) * (i.target?.of === 'breaths' ? 5 : (m?.tempoS ?? 3)));
  return Math.round((n + (i.rest ?? 0)) * (i.sides === 'full' ? 2 : 1));
}

function itemOf(i: ItemDraft, s: SectionDraft, d: Draft, library: Library): Record<string, unknown> & { work?: number | undefined; rest?: number | undefined } {
  const { from, to, bare, bareAt, bareBefore, plural, perSide, sets, each: _each, ...item } = i;
  const m = library.get(i.movement);
  if (!m) askAt(d, from, to, `The movement "${i.movement}" is not in the library. It stays in the plan until you change it.`, [{ label: 'Take it out', text: '' }]);
  if (bare !== undefined) {
    const isSeconds = m?.hold || (bare >= SECONDS_FROM && s.every === undefined && !(bareBefore && plural));
    const first = isSeconds ? item.work : item.target?.n;
    if (first !== undefined && first !== bare && bareAt) askAt(d, bareAt.from, bareAt.to, `${bare} here, and ${isSeconds ? longS(first) : `${first} reps`} beside it: which is meant? ${isSeconds ? longS(first) : `${first} reps`} is taken.`, [{ label: 'Take it out', text: '' }]);
    else if (isSeconds) item.work = bare;
    else if (Number.isInteger(bare) && bare <= 200) item.target = { of: 'reps', n: bare };
    else if (bareAt) askAt(d, bareAt.from, bareAt.to, `${bare} reps: 1 to 200, in whole numbers.`, [{ label: `${bare} s`, text: `${bare} s` }, { label: 'Take it out', text: '' }]);
    const k = d.understood.findIndex((u) => u.from === bareAt?.from);
    const u = d.understood[k];
    if (u) d.understood[k] = { ...u, says: isSeconds ? longS(bare) : `${bare} reps`, guessed: true };
  }
  if (sets) {
    const isSeconds = sets.unit === 's' || (sets.unit === null && m?.hold === true);
    if (isSeconds) item.work = sets.n;
    else item.target = { of: 'reps', n: sets.n };
    const k = d.understood.findIndex((u) => u.from === sets.from);
    const u = d.understood[k];
    if (u) d.understood[k] = { ...u, says: `${sets.rounds} sets of ${isSeconds ? longS(sets.n) : `${sets.n} reps`}`, guessed: sets.unit === null };
  }
  if (item.target && item.work === undefined && s.every === undefined && s.fields.work === undefined && typeof s.fields.rounds !== 'object') {
    item.work = Math.max(1, Math.round(item.target.n * (item.target.of === 'breaths' ? 5 : (m?.tempoS ?? 3))));
  }
  if (perSide?.loose && m?.sides === 'together') item.sides = 'together';
  else if (perSide && m && m.sides === 'together') {
    const others = [...library.values()].filter((o) => o.sides === 'each' && o.name.toLowerCase().includes(m.name.toLowerCase()));
    askAt(d, from, perSide.to, `${m.name} works both sides at once. Which is meant?`, [
      ...others.map((o) => ({ label: `${o.name}, each side`, text: `${o.name} ${item.work === undefined ? '' : `${lengthWords(item.work)} `}a side` })),
      { label: `${m.name}, both sides at once`, text: item.work === undefined ? m.name : `${m.name} ${lengthWords(item.work)}` },
    ]);
  }
  return item;
}

/** What is put in at the end of a section's head, behind what is there or as its head. */
const putIn = (s: SectionDraft) => (a: string): string => (s.headTo > s.from ? ` ${a}` : `${a}: `);

/** Without what is known of it only while it is read. */
const kept = ({ from: _from, to: _to, bare: _bare, bareAt: _bareAt, bareBefore: _before, plural: _plural, perSide: _perSide, sets: _sets, each: _each, ...item }: ItemDraft) => item;

const clean = <T extends object>(o: T): T => Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined)) as T;
