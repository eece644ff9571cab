/**
 * Owns the states of a class that pictures are made of: fixed plans, fixed
 * instants, made by the same domain code that a class runs on. No server, no clock.
 */
import type { Room } from '../../shared/link/types.ts';
import type { Library } from '../../shared/movement/movement.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import type { RunningCommand } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, type ServerAt, serverAt } from '../../shared/time/units.ts';
import { controls } from '../../shared/view/controls.ts';
import { type View, view } from '../../shared/view/view.ts';
import type { Emergency } from '../../shared/wire/emergency.ts';
import { amongNobody, type People } from '../../shared/wire/messages/people.ts';

type Sections = PlanInput['sections'];
const START = serverAt(Date.UTC(2026, 2, 12, 18, 0, 20));
const talk = { id: 'welcome', kind: 'welcome', talk: 60 } as const;
const warm = { id: 'warm', kind: 'warm-up', way: 'follow-me', work: 300, items: ['march-in-place', 'arm-circles', 'side-step', 'hip-hinge', 'squat'].map((movement) => ({ movement })) } as const;
const items = ['squat', 'reverse-lunge', 'glute-bridge', 'dead-bug', 'push-up'].map((movement) => ({ movement }));
const main = { id: 'main', kind: 'main', rounds: 3, work: 40, rest: 20, items } as const;
const cool = { id: 'cool', kind: 'cool-down', work: 30, items: ['child-pose', 'calf-stretch', 'chest-stretch'].map((movement) => ({ movement })) } as const;
const clear = { id: 'clear', kind: 'clear-up', talk: 60 } as const;
const whole: Sections = [talk, warm, { ...main, show: 'each' }, cool, clear];
const stations = (movements: readonly string[]): Sections => [talk, { id: 'st', kind: 'main', way: 'stations', rounds: 2, work: 45, rest: 25, items: movements.map((movement) => ({ movement })) }, clear];
const eight = ['squat', 'incline-push-up', 'step-jack', 'glute-bridge', 'standing-row-squeeze', 'bird-dog', 'calf-raise', 'knee-plank'];
const long = 'Slow standing hamstring reach with a long back';

interface Scene {
  readonly sections?: Sections;
  /** Until this is so, the class runs on; what waits is told to go. */
  readonly until?: (v: View) => boolean;
  readonly paused?: boolean;
  readonly longNames?: boolean;
  /** What a studio calls its own movements: in another script, or at length. */
  readonly names?: { readonly name: string; readonly option: string; readonly left: string; readonly right: string };
  readonly lost?: boolean;
  /** What is said when it is there, and how long ago that was. */
  readonly say?: readonly RunningCommand[];
  readonly agoMs?: number;
  readonly people?: Partial<People>;
}

const phase = (p: View['phase'], movement?: string, seconds?: number) => (v: View): boolean =>
  v.phase === p && (movement === undefined || v.movement === movement) && (seconds === undefined || v.seconds === seconds);
const on = (side: 'left' | 'right', seconds: number, p: View['phase'] = 'work') => (v: View): boolean => v.phase === p && v.side === side && v.seconds === seconds && v.movement === 'reverse-lunge';

/** An invented studio. The number is the one of many countries, and stands for whichever is theirs. */
const emergency: Emergency = {
  number: '112', address: 'Reed Lane 14, back house', floor: 'First floor, Garden room', door: 'Green door in the yard',
  defibrillator: 'Ground floor, by the lift', firstAid: 'Cupboard left of the door', wayOut: 'Garden door, then left down the steps',
  meetingPoint: 'By the lime tree in the yard', localRules: '',
};
const longEmergency: Emergency = {
  number: '0800 123 456 789', address: 'The Old Rope Works, Long Harbour Street 118 to 122, third courtyard', floor: 'Third floor, the lift is to the right of the stairs', door: 'Blue steel door beside the bicycle stands, bell says Studio',
  defibrillator: 'In the swimming hall next door, wall behind the ticket desk', firstAid: 'Staff kitchen, top shelf, beside the fridge with the red magnet',
  wayOut: 'Back stairs behind the curtain, never the lift, then through the yard', meetingPoint: 'Car park of the school on the other side of Long Harbour Street', localRules: 'The porter is trained: call him first on the house phone, 14.',
};

const scenes = {
  doors: {},
  'doors-lost': { lost: true },
  talk: { sections: whole, until: phase('talk') },
  'follow-me': { sections: whole, until: phase('work', 'side-step') },
  watch: { sections: whole, until: phase('watch', 'glute-bridge') },
  'watch-sided': { sections: whole, until: phase('watch', 'reverse-lunge') },
  'set-up': { sections: whole, until: phase('set-up', 'glute-bridge', 5) },
  'count-in': { sections: whole, until: phase('count-in', 'squat', 2) },
  work: { sections: whole, until: phase('work', 'squat', 26) },
  'work-floor': { sections: whole, until: phase('work', 'glute-bridge', 33) },
  'work-floor-2': { sections: whole, until: phase('work', 'dead-bug', 18) },
  closing: { sections: whole, until: phase('work', 'squat', 3) },
  right: { sections: whole, until: on('right', 14) },
  'right-low': { sections: whole, until: on('right', 7) },
  left: { sections: whole, until: on('left', 16) },
  'other-side': { sections: whole, until: on('left', 4, 'other-side') },
  'count-in-left': { sections: whole, until: on('left', 3, 'count-in') },
  rest: { sections: [talk, { ...main, show: 'none', rest: 30 }], until: (v) => v.phase === 'rest' && (v.seconds ?? 99) < 13 },
  paused: { sections: whole, until: on('right', 14), paused: true },
  'paused-both': { sections: whole, until: phase('work', 'squat', 22), paused: true },
  stations: { sections: stations(eight), until: (v) => v.phase === 'work' && v.seconds === 31 },
  'stations-four': { sections: stations(['squat', 'plank', 'calf-raise', 'bird-dog']), until: (v) => v.phase === 'work' && v.seconds === 31 },
  'move-round': { sections: stations(eight), until: (v) => (v.phase === 'rest' || v.phase === 'set-up') && v.prompt === 1 },
  reps: { sections: [talk, { id: 'r', kind: 'main', show: 'none', rounds: { reps: [10, 8] }, rest: 20, items: [{ movement: 'squat' }, { movement: 'reverse-lunge', sides: 'full' }] }], until: phase('work', 'squat') },
  'reps-sided': { sections: [talk, { id: 'r', kind: 'main', show: 'none', rounds: { reps: [10, 8] }, rest: 20, items: [{ movement: 'squat' }, { movement: 'reverse-lunge', sides: 'full' }] }], until: phase('work', 'reverse-lunge') },
  minutes: { sections: [talk, { id: 'l', kind: 'main', show: 'none', work: 150, rest: 20, items: [{ movement: 'plank' }, { movement: 'squat' }] }], until: (v) => v.phase === 'work' && v.seconds === 145 },
  long: { sections: whole, until: on('right', 14), longNames: true },
  'two-lines': { sections: whole, until: on('left', 16), names: { name: 'Standing knee lift with a slow turn', option: 'Keep the foot on the floor', left: 'left knee up', right: 'right knee up' } },
  'right-to-left': { sections: whole, until: on('right', 14), names: { name: 'اندفاع خلفي بطيء مع رفع الذراعين', option: 'خطوة أقصر ونصف العمق', left: 'الساق اليسرى للخلف', right: 'الساق اليمنى للخلف' } },
  devanagari: { sections: whole, until: on('right', 14), names: { name: 'पीछे की ओर धीमा कदम', option: 'छोटा कदम, आधी गहराई', left: 'बायाँ पैर पीछे', right: 'दायाँ पैर पीछे' } },
  lost: { sections: whole, until: phase('work', 'squat', 17), lost: true },
  moving: { sections: whole, until: on('right', 14), say: [{ type: 'keep-moving' }] },
  'moving-long': { sections: whole, until: on('right', 14), say: [{ type: 'keep-moving' }], longNames: true },
  stopped: { sections: whole, until: on('right', 14), say: [{ type: 'stop' }], agoMs: 1_000 },
  help: { sections: whole, until: on('right', 14), say: [{ type: 'stop' }], agoMs: 9_000, people: { emergency } },
  'help-bare': { sections: whole, until: on('right', 14), say: [{ type: 'stop' }], agoMs: 9_000 },
  'help-long': { sections: whole, until: on('right', 14), say: [{ type: 'stop' }], agoMs: 9_000, people: { emergency: longEmergency } },
  out: { sections: whole, until: on('right', 14), say: [{ type: 'stop' }, { type: 'answer-stop', what: 'out' }], people: { emergency } },
  'out-bare': { sections: whole, until: on('right', 14), say: [{ type: 'stop' }, { type: 'answer-stop', what: 'out' }] },
  'ask-phone': { sections: whole, until: phase('watch', 'reverse-lunge'), people: { asksForPhone: true } },
  'ask-phone-paused': { sections: whole, until: on('right', 14), paused: true, people: { asksForPhone: true } },
  'door-check': { people: { picture: 'boat' } },
  over: { sections: [talk, { ...main, show: 'none', rounds: 1 }, clear], until: phase('over') },
} satisfies Record<string, Scene>;

export type StateName = keyof typeof scenes;
export const stateNames = Object.keys(scenes) as StateName[];

const about: NonNullable<Room['about']> = {
  room: { id: 'garden', name: 'Garden room', pattern: 1 },
  studio: { name: 'Reed Lane Studio', timeZone: 'Europe/Oslo' },
  version: 'picture',
  pairing: { code: '402917', address: '192.168.1.20:8080/phone', short: 'hallclock.local:8080/phone', url: 'http://192.168.1.20:8080/phone?code=402917&room=garden' },
  chosen: null,
  present: { screens: 1, phones: 0 },
  ...amongNobody,
};

/** Looks at the class every tenth of a second, as a room would see it. */
function play(scene: Scene, library: Library): { session: Session; at: ServerAt } | null {
  if (!scene.sections) return null;
  const facts = Object.fromEntries([...library.values()].map((m) => [m.id, {
    ...factsOf(m),
    ...(scene.names ? { name: scene.names.name, option: scene.names.option, phrases: { left: scene.names.left, right: scene.names.right } } : {}),
    ...(scene.longNames ? { name: long, option: 'Hold the back of a chair and stay half as deep as you can', phrases: { left: 'lying on your right side, top leg long', right: 'lying on your left side, top leg long' } } : {}),
  }]));
  const plan = planSchema.parse({ format: 1, id: 'p', name: 'Forty twenty', sections: scene.sections });
  const command = { type: 'start', session: 's', room: 'garden', plan, facts, settings: { countInMs: 3_000 }, freeAt: null } as const;
  let session: Session | null = null;
  let at = START;
  const give = (c: Parameters<typeof decide>[1]) => {
    const decided = decide(session, c, at);
    if ('refused' in decided) throw new Error(decided.refused.sentence);
    for (const e of decided.events) session = evolve(session, e);
  };
  give(command);
  for (let n = 0; n < 60_000; n += 1) {
    if (!session) throw new Error('no class began');
    const v = view(session, at);
    if (scene.until?.(v)) break;
    const { big } = controls(session, at);
    if (big?.type === 'go') give(big);
    else at = after(at, 100);
  }
  if (scene.paused) give({ type: 'pause', reason: 'form' });
  for (const c of scene.say ?? []) give(c);
  return session ? { session, at: after(at, scene.agoMs ?? 20) } : null;
}

export function roomIn(name: StateName, library: Library): Room {
  const scene: Scene = scenes[name];
  const played = play(scene, library);
  return {
    link: scene.lost ? { state: 'lost', since: 0, reason: 'no answer' } : { state: 'live', since: 0 },
    about: { ...about, pairing: played && !scene.people?.asksForPhone ? null : about.pairing, people: { ...about.people, ...scene.people } },
    session: played?.session ?? null,
    seq: 1,
    now: () => played?.at ?? START,
    errorMs: () => 1,
    choose: () => undefined,
    tell: () => Promise.resolve({ done: true }),
    sound: () => Promise.resolve({ screens: 0 }),
    onPlay: () => () => undefined,
    onSession: (hear) => {
      hear(played?.session ?? null, 1);
      return () => undefined;
    },
    send: () => Promise.resolve({ done: true }),
  };
}
