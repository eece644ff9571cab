/**
 * Owns the plans to begin with: published protocols, titled by their numbers, and
 * two of our own practice. Each names its paper, what is different here and what to mind.
 * A template is a start, not a prescription.
 */
import { type Plan, type PlanInput, planSchema } from '../plan/plan.ts';

export interface Template {
  readonly id: string;
  /** Its numbers. */
  readonly title: string;
  readonly plan: Plan;
  /** Ids of the sections that are the protocol; the rest of the class is ours. */
  readonly protocol: readonly string[];
  /** Seconds from the start of its first work to its end, the last rest included where the paper counts it; 0 where there is no paper. */
  readonly protocolS: number;
  readonly paper: string;
  /** How the paper's time adds up. */
  readonly timing: string;
  /** What is different here. */
  readonly ours: string;
  readonly cautions: readonly string[];
}

type SectionInput = PlanInput['sections'][number];
const moves = (...ids: string[]) => ids.map((movement) => ({ movement }));
const welcome: SectionInput = { id: 'welcome', kind: 'welcome', talk: 60 };
const warmUp: SectionInput = {
  id: 'warm-up', kind: 'warm-up', way: 'follow-me', work: 300, items: moves('march-in-place', 'side-step', 'arm-circles', 'hip-hinge', 'squat', 'step-jack'),
};
const coolDown: SectionInput = {
  id: 'cool-down', kind: 'cool-down', work: 30, sides: 'full',
  items: [{ movement: 'march-in-place', work: 60, sides: 'alternating' }, { movement: 'calf-stretch' }, { movement: 'quad-stretch' }, { movement: 'hamstring-stretch' }, { movement: 'chest-stretch', sides: 'together' }],
};
const clearUp: SectionInput = { id: 'clear-up', kind: 'clear-up', talk: 60 };

function made(id: string, name: string, main: readonly SectionInput[], more: Partial<PlanInput> = {}): Plan {
  return planSchema.parse({ format: 1, id, name, ...more, sections: [welcome, warmUp, ...main, coolDown, clearUp] });
}
const ASK = 'Ask in the welcome who has chest pain, gets breathless easily, is pregnant, returns from an injury or has high blood pressure; they do the options, or ask a doctor first.';
const LIBRARY = 'Movements of our library stand in where the paper has one that it does not hold';

const hard = (words: string): readonly string[] => [words, ASK];

export const templates: readonly Template[] = [
  {
    id: 'twenty-ten', title: '20/10 x 8',
    plan: made('twenty-ten', '20/10 x 8', [{ id: 'main', kind: 'main', work: 20, rest: 10, rounds: 8, setUp: 0, lastRest: false, show: 'none', items: moves('run-in-place') }]),
    protocol: ['main'], protocolS: 230,
    paper: 'Tabata et al. 1996, Med Sci Sports Exerc 28(10):1327-30.',
    timing: '8 x 20 s and 7 x 10 s are 3:50; with a rest after the last it is called four minutes.',
    ours: 'The paper was done on a cycle at about 170 % of the greatest oxygen uptake. Running in place does not come near that.',
    cautions: hard('All-out work, measured with young athletes on a cycle; whether people can do 160 s of it is doubted (Viana et al. 2018, Physiol Behav 189:10-15). No start for a mixed class.'),
  },
  {
    id: 'one-and-five', title: '1 min, then 5 x (1 min + 1 min)',
    plan: made('one-and-five', '1 min, then 5 x (1 min + 1 min)', [
      { id: 'first', kind: 'main', name: 'First minute', work: 60, setUp: 0, show: 'none', items: moves('jumping-jack') },
      { id: 'main', kind: 'main', work: 60, rest: 60, setUp: 0, show: 'none', items: moves('squat-jump', 'high-knees', 'skater-step', 'high-knees', 'squat-jump') },
    ]),
    protocol: ['first', 'main'], protocolS: 660,
    paper: 'Archila et al. 2021, Int J Exerc Sci 14(3):93-100.',
    timing: '1 + 5 x (1 + 1) is 11:00; the last minute of walking counts.',
    ours: `${LIBRARY}: a squat jump for the burpee, a skater step for the split squat jump. Walk in the rests.`,
    cautions: hard('The paper found 82 % of the greatest heart rate. Say that the minute is paced by each one alone.'),
  },
  {
    id: 'thirty-thirty', title: '30/30 x 20',
    plan: made('thirty-thirty', '30/30 x 20', [{
      id: 'main', kind: 'main', work: 30, rest: 30, rounds: 5, show: 'none',
      items: [{ movement: 'jumping-jack', setUp: 0 }, { movement: 'skater-step' }, { movement: 'mountain-climber' }, { movement: 'squat-jump' }],
    }]),
    protocol: ['main'], protocolS: 1_200,
    paper: 'Machado et al. 2022, Front Physiol 13:912890.',
    timing: '20 x (30 + 30) is 20:00; the last rest counts.',
    ours: `${LIBRARY}: a skater step for the burpee.`,
    cautions: hard('The paper asked trained young people for all they had: 13 kcal a minute.'),
  },
  {
    id: 'thirty-ten', title: '30/10 x 12',
    plan: made('thirty-ten', '30/10 x 12', [{
      id: 'main', kind: 'main', work: 30, rest: 10, lastRest: false, show: 'none',
      items: [
        { movement: 'jumping-jack', setUp: 0 }, ...moves('wall-sit', 'push-up', 'curl-up', 'chair-sit-to-stand', 'squat', 'chair-dip', 'plank', 'high-knees'),
        { movement: 'reverse-lunge', sides: 'alternating' }, { movement: 'plank-shoulder-tap' }, { movement: 'side-plank', sides: 'half' },
      ],
    }]),
    protocol: ['main'], protocolS: 478,
    paper: 'Klika and Jordan 2013, ACSM Health Fit J 17(3):8-13 (numbers and order as quoted elsewhere).',
    timing: '12 x 30 s and 11 x 10 s are 7:50, not seven minutes; here 8 s more to turn to the other side of the side plank.',
    ours: `${LIBRARY}: sit to stand for the step-up, shoulder taps for the push-up with a turn.`,
    cautions: hard('Its authors warn of high effort for people who are overweight, detrained, injured, older or have high blood pressure, and of the still holds.'),
  },
  {
    id: 'minute-minute', title: '60/60 x 10',
    plan: made('minute-minute', '60/60 x 10', [{ id: 'main', kind: 'main', work: 60, rest: 60, rounds: 10, setUp: 0, show: 'none', items: moves('high-knees') }]),
    protocol: ['main'], protocolS: 1_200,
    paper: 'Gibala 2015, Sports Science Exchange 139.',
    timing: '10 x (60 + 60) is 20:00, 19:00 without the last rest.',
    ours: 'The papers were done on cycles and treadmills at about 90 % of the greatest heart rate.',
    cautions: hard('A minute is long: begin at a pace that the tenth one can keep.'),
  },
  {
    id: 'four-by-four', title: '4 x 4 min, 3 min between',
    plan: made('four-by-four', '4 x 4 min, 3 min between', [{
      id: 'main', kind: 'main', way: 'follow-me', work: 240, rest: 180, rounds: 4, setUp: 0, lastRest: false, items: moves('step-jack', 'high-knees', 'skater-step', 'front-punch'),
    }]),
    protocol: ['main'], protocolS: 1_500,
    paper: 'Tjonna et al. 2013, PLoS ONE 8:e65382.',
    timing: '4 x 4 and 3 x 3 min are 25:00; 28:00 with the last three minutes.',
    ours: 'The paper was run on a treadmill. March in the rests: they were active.',
    cautions: hard('Four minutes at 90 % of the greatest heart rate; begin easier than you think.'),
  },
  {
    id: 'two-by-five', title: '2 x 5 x (60/60), 2 min between',
    plan: made('two-by-five', '2 x 5 x (60/60), 2 min between', [
      { id: 'main', kind: 'main', work: 60, rest: 60, setUp: 0, show: 'none', items: moves('jumping-jack', 'skater-step', 'high-knees', 'squat-jump', 'run-in-place') },
      { id: 'water', kind: 'main', name: 'Water', talk: 120 },
      { id: 'main-2', kind: 'main', work: 60, rest: 60, setUp: 0, show: 'none', items: moves('jumping-jack', 'skater-step', 'high-knees', 'squat-jump', 'run-in-place') },
    ]),
    protocol: ['main', 'water', 'main-2'], protocolS: 1_320,
    paper: 'Bellissimo et al. 2022, Front Physiol 13:824154; the two minutes between from a press account.',
    timing: '2 x 5 x (60 + 60) and 2 min between are 22:00.',
    ours: `${LIBRARY}. March in place in the rests, as in the paper.`,
    cautions: hard('All-out calisthenics: everybody needs the option without the jump shown first.'),
  },
  {
    id: 'forty-twenty-five', title: '40/20, 3 rounds of 5',
    plan: made('forty-twenty-five', '40/20, 3 rounds of 5', [{
      id: 'main', kind: 'main', work: 40, rest: 20, rounds: 3,
      items: moves('squat', 'standing-row-squeeze', 'reverse-lunge', 'push-up', 'plank'),
    }], { slot: 1_800 }),
    protocol: ['main'], protocolS: 0,
    paper: 'Our own practice, no paper.', timing: 'Each movement a minute, a round five; the shows and the sides of the lunge come on top.',
    ours: 'Legs, pull, legs, push, trunk: nothing three times running, and the floor last.', cautions: [ASK],
  },
  {
    id: 'ladder-counts', title: 'Ladder 6, 8, 10, 8, 6',
    plan: made('ladder-counts', 'Ladder 6, 8, 10, 8, 6', [{
      id: 'main', kind: 'main', rounds: { reps: [6, 8, 10, 8, 6] }, rest: 20, items: moves('squat', 'incline-push-up', 'standing-row-squeeze'),
    }], { slot: 1_500 }),
    protocol: ['main'], protocolS: 0,
    paper: 'Our own practice, no paper.', timing: 'Counts end on go; the seconds are estimates from the tempo of each movement.',
    ours: 'Everybody counts for themselves and waits; nobody is hurried.', cautions: [ASK],
  },
];
