/** Owns how a story that failed is told to a person. */
import type { Step, Story } from './story.ts';
import type { Outcome } from './world.ts';

const s = (ms: number): string => `${(ms / 1_000).toFixed(3)} s`;

function tellStep(step: Step, { devices }: Story, meant: Outcome['meant']): string {
  const name = (d: number) => `${devices[d]?.role ?? 'device'} ${d + 1}`;
  switch (step.do) {
    case 'press': return `${name(step.device)} presses ${step.what} (${meant.get(step) ?? 'not reached'})`;
    case 'partition': return `${step.directions.join(' and ')} of ${step.devices.map(name).join(', ')} cut off for ${s(step.ms)}`;
    case 'cut': return `the connection of ${name(step.device)} breaks${step.told ? '' : ', and nobody is told'}`;
    case 'crash': return `${step.server === undefined ? 'the server' : `server ${step.server + 1}`} ${step.boot ? 'loses power' : 'crashes'}, back after ${s(step.downMs)}`;
    case 'wall': return `the server's wall clock is set by ${s(step.byMs)}`;
    case 'stall': return `the disk stalls for ${s(step.ms)}`;
    case 'disk': return `the next write: ${step.fault}${step.unreadable > 0 ? `; ${step.unreadable} reads fail` : ''}`;
    case 'sleep': return `${name(step.device)} sleeps for ${s(step.ms)}`;
    case 'device-wall': return `the wall clock of ${name(step.device)} is set by ${s(step.byMs)}`;
    case 'authority': return `the database's clock is set by ${s(step.byMs)}`;
    case 'base': return `the database is ${step.how} for ${s(step.ms)}`;
    case 'append': return `the next append of server ${step.server + 1}: ${step.fault}${step.unreadable > 0 ? `; ${step.unreadable} reads fail` : ''}`;
    case 'deaf': return `server ${step.server + 1} hears nothing of the other for ${s(step.ms)}`;
    case 'redis': return step.how === 'away' ? `Redis is away for ${s(step.ms)}` : `server ${step.server + 1} hears Redis ${s(step.ms)} late`;
    case 'over': return `${name(step.device)} changes over to the other server`;
    case 'reload': return `${name(step.device)} closes its page for ${s(step.ms)}`;
  }
}

export function tellStory(story: Story, { failure, meant }: Outcome, stepsBefore: number): string {
  const { plan } = story;
  return [
    `Seed ${story.seed} breaks ${failure?.rule ?? '?'} at ${s(failure?.at ?? 0)}: ${failure?.sentence ?? ''}.`,
    `Plan for ${plan.group}: ${plan.sections.map((x) => `${x.kind} ${x.way}`).join(', ')}. ${story.devices.length} devices. ${story.steps.length} of ${stepsBefore} steps are enough:`,
    ...story.steps.map((step) => `  ${s(step.at).padStart(10)}  ${tellStep(step, story, meant)}`),
  ].join('\n');
}
