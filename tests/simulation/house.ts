/** Owns which servers a simulated world has and what they stand on: one with its disk, or several with one database. */
import type { Plan } from '../../shared/plan/plan.ts';
import { Alone } from './alone.ts';
import { Base } from './base.ts';
import type { Chance } from './chance.ts';
import { Chained } from './chained.ts';
import { Disk } from './disk.ts';
import { Server } from './server.ts';
import type { Step, Story } from './story.ts';
import type { Facts } from './truth.ts';
import type { VirtualTime } from './virtual-time.ts';

/** All quiet for so long, a server has heard of everything: five seconds, and a look. */
const HEARD_MS = 6_000;
/** Once the database answers quickly again, a step of its clock is measured and taken back by then: a clock is asked for every 30 s at most. */
const MEASURED_MS = 31_000;

export interface House extends Facts {
  /** A fault of a server, or of what it stands on. */
  readonly does: (step: Step) => void;
  /** What is wrong with the clocks of the servers; null where nothing is. */
  readonly clocks: () => { rule: string; sentence: string } | null;
  /** What was written down beside the log. */
  readonly written: () => unknown;
  readonly broken: (fail: (rule: string, sentence: string) => void) => void;
}

function alone(_story: Story, time: VirtualTime, chance: (name: string) => Chance, plans: ReadonlyMap<string, Plan>): House {
  const disk = new Disk(time, chance('disk'));
  const luck = chance('server');
  const ground = new Alone(time, disk, luck);
  const server = new Server(time, ground, luck, plans);
  return {
    servers: [server], kept: disk.kept, now: () => time.now, truth: ground.truth, settled: () => true, clocks: () => null,
    written: () => [disk.mark, server.warnings],
    broken: (fail) => { ground.broken = fail; },
    does: (step) => {
      switch (step.do) {
        case 'crash': return server.crash(step.downMs, step.boot);
        case 'wall': ground.wallStepMs += step.byMs; return;
        case 'stall': disk.stalledUntil = Math.max(disk.stalledUntil, time.now + step.ms); return;
        case 'disk':
          disk.faults.push(step.fault);
          disk.unreadable += step.unreadable;
      }
    },
  };
}

function chained({ chain }: Story, time: VirtualTime, chance: (name: string) => Chance, plans: ReadonlyMap<string, Plan>): House {
  const base = new Base(time, chance('base'), chain?.redis ?? false);
  const grounds = (chain?.ppms ?? []).map((ppm, i) => new Chained(base, i, ppm, chance(`ground ${i}`)));
  const servers = grounds.map((ground, i) => new Server(time, ground, chance(`server ${i}`), plans, i));
  for (const [i, ground] of grounds.entries()) ground.toDevices = (news) => servers[i]?.toDevices(news);
  return {
    servers, kept: base.kept, now: () => time.now, truth: base.truth, settled: (server) => base.settled(server, HEARD_MS),
    written: () => [[...base.board], ...servers.map((s) => s.warnings), ...grounds.map((g) => g.warnings)],
    broken: (fail) => { base.broken = fail; },
    clocks: () => {
      for (const [i, ground] of grounds.entries()) {
        const off = ground.off();
        if (off && !base.rough(MEASURED_MS) && off.ms > off.claimedMs + base.movedMs + 0.01) return { rule: 'K507', sentence: `server ${i + 1} is ${off.ms.toFixed(2)} ms from the time of the chain and claims ${off.claimedMs.toFixed(2)}` };
      }
      return null;
    },
    does: (step) => {
      const until = 'ms' in step ? time.now + step.ms : 0;
      switch (step.do) {
        case 'crash': return servers[step.server ?? 0]?.crash(step.downMs, step.boot);
        case 'authority': return base.setClock(step.byMs);
        case 'base':
          if (step.how === 'away') base.away(step.ms);
          else if (step.how === 'frozen') base.frozenUntil = Math.max(base.frozenUntil, until);
          else base.slowUntil = Math.max(base.slowUntil, until);
          return;
        case 'append': {
          const ground = grounds[step.server];
          ground?.faults.push(step.fault);
          if (ground) ground.unreadable = step.unreadable;
          return;
        }
        case 'deaf': return base.deaf(step.server, step.ms);
        case 'redis':
          if (step.how === 'away') base.redisAwayUntil = Math.max(base.redisAwayUntil, until);
          else base.lagUntil[step.server] = Math.max(base.lagUntil[step.server] ?? 0, until);
      }
    },
  };
}

export const houseOf = (story: Story, ...world: [VirtualTime, (name: string) => Chance, ReadonlyMap<string, Plan>]): House =>
  (story.chain ? chained : alone)(story, ...world);
