/**
 * Owns what happens in a simulated class with two servers: the same class as with one, its faults those
 * of servers that share a log. The luck of it is its own, so that the stories of one server stay as they are.
 */
import { type Chance, chanceOf, pick, spread, whole } from './chance.ts';
import { type Step, type Story, storyOf } from './story.ts';

const HOUR_MS = 3_600_000;
const SERVERS = 2;

function otherwise(step: Step, chance: Chance): Step {
  const server = whole(chance, 0, SERVERS - 1);
  switch (step.do) {
    case 'crash': return { ...step, server };
    case 'wall': return { at: step.at, do: 'authority', byMs: pick(chance, [-3 * HOUR_MS, HOUR_MS, 26 * HOUR_MS, -30_000, 30_000, -700, 700]) };
    case 'stall': return { at: step.at, do: 'base', how: pick(chance, ['slow', 'frozen', 'away']), ms: pick(chance, [300, 1_500, 6_000, 30_000]) * spread(chance, 0.5, 1.2) };
    case 'disk': return { at: step.at, do: 'append', server, fault: pick(chance, ['fails', 'unknown-kept', 'unknown-lost', 'unknown-late']), unreadable: step.unreadable };
    default: return step;
  }
}

/** What only several servers have: a notice that is lost, Redis that is away or behind, a device that changes over. */
function ofMany(chance: Chance, at: number, devices: number): Step {
  const luck = chance();
  const server = whole(chance, 0, SERVERS - 1);
  if (luck < 0.35) return { at, do: 'deaf', server, ms: pick(chance, [100, 1_000, 4_000]) * spread(chance, 0.5, 1.5) };
  if (luck < 0.55) return { at, do: 'redis', server, how: pick(chance, ['away', 'behind']), ms: pick(chance, [500, 4_000, 30_000]) * spread(chance, 0.5, 1.2) };
  return { at, do: 'over', device: whole(chance, 0, devices - 1) };
}

export function chainStoryOf(seed: number): Story {
  const one = storyOf(seed);
  const chance = chanceOf(seed, 'chain');
  const calm = !one.steps.some((s) => s.do !== 'press');
  const phones = one.devices.filter((d) => d.role === 'phone').length;
  const steps = one.steps.flatMap((step): Step[] => {
    const more: Step[] = [otherwise(step, chance)];
    if (step.do !== 'press') return more;
    // Somebody at the other server presses at nearly the same moment.
    if (chance() < 0.4) more.push({ ...step, at: step.at + spread(chance, 0, 30), device: whole(chance, 0, phones - 1), n: step.n + 1 });
    if (!calm && chance() < 0.5) more.push(ofMany(chance, Math.max(0, step.at + (chance() < 0.5 ? spread(chance, -20, 60) : spread(chance, -4_000, 4_000))), one.devices.length));
    return more;
  });
  steps.sort((a, b) => a.at - b.at);
  return { ...one, steps, chain: { redis: chance() < 0.6, ppms: Array.from({ length: SERVERS }, () => spread(chance, -30, 30)) } };
}
