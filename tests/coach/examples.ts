/** Owns an example that each rule of the coach finds, and one that it does not. */
import type { PlanInput } from '../../shared/plan/plan.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import { around, coolDown, main, moves, plan, warmUp, welcome } from './library.ts';

export interface Example { readonly bad: Plan; readonly good: Plan }
const squats = main({ items: moves('squat', 'standing-row-squeeze', 'incline-push-up'), rounds: 2 });
const good = around([squats]);
const group = (g: NonNullable<PlanInput['group']>, ...ids: string[]): Plan => around([main({ items: moves(...ids), rounds: 2 })], { group: g });
const one = (s: Parameters<typeof main>[0]): Plan => around([main(s)]);

export const examples: Readonly<Record<string, Example>> = {
  'movement-unknown': { bad: one({ items: moves('squat', 'gone-movement') }), good },
  'too-much': { bad: one({ rounds: 50, work: 600, items: moves('squat', 'hip-hinge') }), good },
  'side-too-short': { bad: one({ items: [{ movement: 'reverse-lunge', sides: 'half', work: 4 }] }), good: one({ items: [{ movement: 'reverse-lunge', sides: 'half', work: 6 }] }) },
  'no-work': { bad: plan([welcome]), good },
  'over-slot': { bad: around([squats], { slot: 600 }), good: around([squats], { slot: 1_500 }) },
  'under-slot': { bad: around([squats], { slot: 3_600 }), good: around([squats], { slot: 1_200 }) },
  'work-under-least': { bad: one({ items: [{ movement: 'squat', work: 10 }] }), good: one({ items: [{ movement: 'squat', work: 20 }] }) },
  'count-and-time': { bad: one({ items: [{ movement: 'squat', target: { of: 'reps', n: 10 }, work: 10 }] }), good: one({ items: [{ movement: 'squat', target: { of: 'reps', n: 10 }, work: 30 }] }) },
  'sides-uneven': { bad: one({ rounds: 3, items: [{ movement: 'side-plank', sides: 'by-round' }] }), good: one({ rounds: 2, items: [{ movement: 'side-plank', sides: 'by-round' }] }) },
  'sides-not-said': { bad: one({ items: [{ movement: 'reverse-lunge', sides: 'together' }] }), good: one({ items: moves('reverse-lunge') }) },
  'sides-without-need': { bad: one({ items: [{ movement: 'squat', sides: 'full' }] }), good },
  'sides-in-one-slot': { bad: one({ way: 'stations', items: moves('squat', 'side-plank') }), good: one({ way: 'stations', items: moves('squat', 'plank') }) },
  'lead-never-changes': { bad: one({ rounds: 3, items: [{ movement: 'reverse-lunge', lead: 'right' }] }), good: one({ rounds: 3, items: moves('reverse-lunge') }) },
  'no-warm-up': { bad: plan([welcome, squats, coolDown]), good },
  'short-warm-up': { bad: plan([welcome, { ...warmUp, work: 90 } as never, squats, coolDown]), good },
  'no-cool-down': { bad: plan([welcome, warmUp, squats]), good },
  'short-cool-down': { bad: plan([welcome, warmUp, squats, { id: 'cool-down', kind: 'cool-down', work: 40, items: moves('chest-stretch') }]), good },
  'impact-before-warm-up': { bad: plan([welcome, main({ items: moves('jumping-jack') }), coolDown]), good: one({ items: moves('jumping-jack') }) },
  'long-hold-in-warm-up': {
    bad: plan([welcome, { id: 'warm-up', kind: 'warm-up', work: 45, items: moves('chest-stretch', 'march-in-place') }, squats]),
    good: plan([welcome, { id: 'warm-up', kind: 'warm-up', work: 20, items: moves('chest-stretch', 'march-in-place') }, squats]),
  },
  'stretch-hold': {
    bad: plan([{ id: 'cool-down', kind: 'cool-down', items: [{ movement: 'child-pose', work: 45 }] }]),
    good: plan([{ id: 'cool-down', kind: 'cool-down', items: [{ movement: 'child-pose', work: 30 }] }]),
  },
  'nobody-asked': { bad: plan([warmUp, squats]), good },
  'not-for-this-part': {
    bad: plan([{ id: 'warm-up', kind: 'warm-up', work: 30, items: moves('push-up') }]), good: plan([{ id: 'warm-up', kind: 'warm-up', work: 30, items: moves('hip-hinge') }]),
  },
  'work-to-rest': { bad: one({ rounds: 4, work: 40, rest: 5, items: moves('run-in-place') }), good: one({ rounds: 8, work: 20, rest: 10, items: moves('run-in-place') }) },
  'hard-warm-up': {
    bad: plan([{ id: 'warm-up', kind: 'warm-up', work: 60, items: moves('jumping-jack', 'run-in-place') }]), good,
  },
  'hard-cool-down': { bad: plan([warmUp, squats, { id: 'cool-down', kind: 'cool-down', work: 30, items: moves('jumping-jack') }]), good },
  'easy-main': { bad: one({ items: moves('bird-dog', 'plank', 'clamshell') }), good },
  'stop-dead': { bad: plan([warmUp, main({ items: moves('squat', 'run-in-place') })]), good: around([main({ items: moves('squat', 'run-in-place') })]) },
  'same-area-thrice': { bad: one({ items: moves('squat', 'wall-sit', 'reverse-lunge') }), good: one({ items: moves('squat', 'incline-push-up', 'reverse-lunge') }) },
  'long-without-break': { bad: one({ rounds: 8, items: moves('squat', 'incline-push-up', 'hip-hinge') }), good },
  'push-without-pull': { bad: one({ rounds: 3, items: moves('push-up', 'squat') }), good: one({ rounds: 3, items: moves('push-up', 'standing-row-squeeze') }) },
  'long-hold': { bad: one({ items: [{ movement: 'wall-sit', work: 90 }] }), good: one({ items: [{ movement: 'wall-sit', work: 45 }] }) },
  'prompts-too-quick': { bad: plan([{ ...warmUp, work: 30 } as never, squats]), good },
  'change-without-time': { bad: one({ items: moves('squat', 'plank'), setUp: 2, show: 'none' }), good: one({ items: moves('squat', 'plank'), show: 'none' }) },
  'rest-too-short-to-move': { bad: one({ rounds: 3, rest: 3, show: 'none', items: moves('squat', 'glute-bridge') }), good: one({ rounds: 3, rest: 20, show: 'none', items: moves('squat', 'glute-bridge') }) },
  'up-and-down': { bad: one({ rounds: 3, items: moves('squat', 'plank', 'hip-hinge', 'glute-bridge') }), good },
  'no-way-without-floor': { bad: group('older-adults', 'squat', 'glute-bridge'), good: group('older-adults', 'squat') },
  'show-too-short': { bad: one({ showEstimate: 5, items: moves('push-up') }), good: one({ showEstimate: 15, items: moves('push-up') }) },
  'never-shown': { bad: one({ show: 'none', items: moves('push-up') }), good: one({ show: 'each', items: moves('push-up') }) },
  'many-in-a-round': { bad: one({ items: Array.from({ length: 13 }, () => ({ movement: 'squat' })) }), good },
  'impact-in-pregnancy': { bad: group('pregnancy', 'jumping-jack'), good: group('pregnancy', 'step-jack') },
  'pregnancy-on-the-back': { bad: group('pregnancy', 'glute-bridge'), good: group('pregnancy', 'squat') },
  'pregnancy-face-down': { bad: group('pregnancy', 'swimmer'), good: group('pregnancy', 'bird-dog') },
  'impact-for-older-adults': { bad: group('older-adults', 'jumping-jack'), good: group('older-adults', 'step-jack') },
  'impact-when-returning': { bad: group('returning', 'squat-jump'), good: group('returning', 'squat') },
  'hard-for-the-group': { bad: around([main({ rounds: 4, items: moves('run-in-place') })], { group: 'beginners' }), good: around([main({ rounds: 4, items: moves('squat') })], { group: 'beginners' }) },
  'older-adults-balance': { bad: group('older-adults', 'squat'), good: group('older-adults', 'single-leg-balance', 'squat') },
  'older-adults-strength': { bad: plan([main({ items: moves('chair-march') })], { group: 'older-adults' }), good: group('older-adults', 'chair-sit-to-stand') },
  'ask-first': { bad: one({ items: moves('wall-sit') }), good: plan([welcome, warmUp, squats]) },
};
