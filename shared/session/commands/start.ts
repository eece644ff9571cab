/** Owns starting a class. The event carries all that the class will ever look at. */
import { z } from 'zod';
import { PLAN_MOST_S } from '../../limits.ts';
import { factsSchema } from '../../plan/facts.ts';
import { compile } from '../../plan/compile.ts';
import { type Interval, intervalSchema } from '../../plan/interval.ts';
import { planSchema } from '../../plan/plan.ts';
import { problemsOf } from '../../plan/problems.ts';
import { after, between, type ServerAt } from '../../time/units.ts';
import { projectedEndAt, stand } from '../finish.ts';
import { countInOwedMs } from '../place.ts';
import { refuse } from '../refusal.ts';
import { type Accounts, type Session, settingsSchema } from '../session.ts';
import { at, type Decided, ms } from './common.ts';

/** Who teaches, in a word, and what shows are expected to take by movement, where it has been learned. */
const told = {
  instructor: z.string().trim().min(1).max(40).optional(),
  estimates: z.record(z.string().max(60), ms.min(1_000).max(PLAN_MOST_S * 1_000)).optional(),
};
export const schema = z.strictObject({
  type: z.literal('start'),
  session: z.string().min(1).max(60),
  room: z.string().min(1).max(60),
  plan: planSchema,
  facts: z.record(z.string(), factsSchema),
  settings: settingsSchema,
  /** Null: the plan's slot decides, if it has one. */
  freeAt: at.nullable(),
  ...told,
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
  ...told,
});
type Started = z.infer<typeof eventSchema>;

const none: Accounts = {
  together: 0, left: 0, right: 0, otherSide: 0, setUp: 0, rest: 0, show: 0, talk: 0, countIn: 0, paused: 0, keepMoving: 0, stopped: 0,
};

/** A show that ends on go, as long as it usually takes. */
export function expected(i: Interval, estimates: Session['estimates']): Interval {
  const ms = i.kind === 'show' && i.ends === 'go' && i.movement !== undefined && Object.hasOwn(estimates, i.movement) ? estimates[i.movement] : undefined;
  return ms === undefined ? i : { ...i, lengthMs: ms };
}

export function decide(command: z.infer<typeof schema>, now: ServerAt): Decided<Started> {
  const { type: _type, ...rest } = command;
  const problems = problemsOf(command.plan, command.facts);
  if (problems[0]) return refuse('bad-plan', `This plan cannot run: ${problems[0].sentence}`);
  const { plan, estimates } = command;
  const intervals = compile(plan, command.facts).intervals.map((i) => expected(i, estimates ?? {}));
  const freeAt = command.freeAt ?? (plan.slot === undefined ? null : after(now, plan.slot * 1_000));
  const event: Started = { ...rest, freeAt, type: 'started', at: now, intervals, countInMs: 0 };
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
    wasStopped: false,
    over: null,
    accounts: none,
    sums: { elapsed: 0, planned, extended: 0, added: 0, repeated: 0, skipped: 0, dropped: 0 },
    sides: {},
    lastPair: null,
    evened: [],
    changes: 0,
    change: null,
    replaced: {},
    standing: 'on-time',
    instructor: e.instructor ?? null,
    estimates: e.estimates ?? {},
    notes: [],
    headCount: null,
  };
  const endAt = projectedEndAt(session, e.at);
  const promisedAt = e.freeAt ?? endAt;
  return { ...session, promisedAt, standing: stand('on-time', between(promisedAt, endAt)) };
}
