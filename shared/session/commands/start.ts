/** Owns starting a class. The event carries all that the class will ever look at. */
import { z } from 'zod';
import { factsSchema } from '../../plan/facts.ts';
import { compile } from '../../plan/compile.ts';
import { intervalSchema } from '../../plan/interval.ts';
import { planSchema } from '../../plan/plan.ts';
import { problemsOf } from '../../plan/problems.ts';
import type { ServerAt } from '../../time/units.ts';
import { projectedEndAt } from '../finish.ts';
import { countInOwedMs } from '../place.ts';
import { refuse } from '../refusal.ts';
import { type Accounts, type Session, settingsSchema } from '../session.ts';
import { at, type Decided, ms } from './common.ts';

export const schema = z.strictObject({
  type: z.literal('start'),
  session: z.string().min(1).max(60),
  room: z.string().min(1).max(60),
  plan: planSchema,
  facts: z.record(z.string(), factsSchema),
  settings: settingsSchema,
  freeAt: at.nullable(),
});
export const eventSchema = z.strictObject({
  type: z.literal('started'),
  at,
  session: z.string().min(1).max(60),
  room: z.string().min(1).max(60),
  plan: planSchema,
  facts: z.record(z.string(), factsSchema),
  intervals: z.array(intervalSchema).min(1),
  settings: settingsSchema,
  freeAt: at.nullable(),
  countInMs: ms,
});
type Started = z.infer<typeof eventSchema>;

const none: Accounts = {
  together: 0, left: 0, right: 0, otherSide: 0, setUp: 0, rest: 0, show: 0, talk: 0, countIn: 0, paused: 0,
};

export function decide(command: z.infer<typeof schema>, now: ServerAt): Decided<Started> {
  const { type: _type, ...rest } = command;
  const problems = problemsOf(command.plan, command.facts);
  if (problems[0]) return refuse('bad-plan', `This plan cannot run: ${problems[0].sentence}`);
  const intervals = compile(command.plan, command.facts).intervals;
  const event: Started = { ...rest, type: 'started', at: now, intervals: [...intervals], countInMs: 0 };
  return { events: [{ ...event, countInMs: countInOwedMs(evolve(event), 0, 0) }] };
}

export function evolve(e: Started): Session {
  const planned = e.intervals.reduce((sum, i) => sum + (i.ends === 'clock' ? i.lengthMs : 0), 0);
  const session: Session = {
    id: e.session,
    room: e.room,
    plan: e.plan,
    facts: e.facts,
    settings: e.settings,
    freeAt: e.freeAt,
    promisedAt: e.at,
    startedAt: e.at,
    lastAt: e.at,
    intervals: e.intervals,
    anchor: { at: e.at, index: 0, elapsedMs: 0, countInMs: e.countInMs },
    goneBack: 0,
    pause: null,
    pauses: 0,
    over: null,
    accounts: none,
    sums: { elapsed: 0, planned, extended: 0, added: 0, repeated: 0, skipped: 0, dropped: 0 },
    sides: {},
    lastPair: null,
    evened: [],
    notes: [],
    headCount: null,
  };
  return { ...session, promisedAt: e.freeAt ?? projectedEndAt(session, e.at) };
}
