/**
 * Owns one simulated class from its first step to its last: it puts the world
 * together, lets the steps happen, looks at everything in between, and at the end
 * takes all faults away and waits for the world to come right again.
 */
import type { Session } from '../../shared/session/session.ts';
import { chanceOf, spread, whole } from './chance.ts';
import { tellsOfPeople } from './hand-over.ts';
import { houseOf } from './house.ts';
import { Watched } from './ledger.ts';
import { Player } from './player.ts';
import type { Step, Story } from './story.ts';
import { type Failure, Truth } from './truth.ts';
import { VirtualTime } from './virtual-time.ts';

/** After the last fault everything is back by then: a lost connection is noticed after 20 s, then tried again. */
const RIGHT_AGAIN_MS = 25_000;

export interface Outcome {
  readonly failure: Failure | null;
  readonly happenings: number;
  readonly counts: Truth['counts'];
  readonly bounds: { readonly looks: number; readonly boundMs: number; readonly worstMs: number };
  /** What each press meant, by its place in the story. */
  readonly meant: ReadonlyMap<Step, string>;
}

export async function run(story: Story): Promise<Outcome> {
  const time = new VirtualTime();
  const chance = (name: string) => chanceOf(story.seed, name);
  const house = houseOf(story, time, chance, new Map([['random', story.plan]]));
  const { servers, kept } = house;
  const truth = new Truth(house);
  house.broken(truth.fail);
  const players = story.devices.map((model, i) => new Player(`${model.role} ${i + 1}`, model, time, servers, i % servers.length, truth, chance));
  const hands = chance('hand-over');
  const phones = players.filter((_, i) => story.devices[i]?.role === 'phone');
  for (const phone of phones) {
    phone.offered = () => {
      const other = phones[whole(hands, 0, phones.length - 1)];
      time.after(spread(hands, 1_000, 8_000), () => other?.take());
    };
  }
  const commits = kept.committed;
  kept.committed = (batch, by) => {
    commits(batch, by);
    if (tellsOfPeople(batch)) truth.fail('R104', 'who is here, or who leads, was written down');
  };
  const meant = new Map<Step, string>();
  let watched = servers.map(() => new Watched());
  const seen: (Session | null)[] = [];
  let changedAt = 0;
  let epoch = 1;

  const look = () => {
    if (truth.failure) return;
    const now = servers[0]?.epoch ?? epoch;
    if (now !== epoch) {
      epoch = now;
      changedAt = time.now;
      watched = servers.map(() => new Watched());
    }
    truth.rooms();
    const off = house.clocks();
    if (off) truth.fail(off.rule, off.sentence);
    for (const { process, index } of servers) {
      const session = process?.core.session() ?? null;
      // One that heard of several things late may have shown what was over already.
      if (session !== seen[index] && !house.settled(index)) watched[index] = new Watched();
      seen[index] = session;
      const wrong = process && session ? watched[index]?.look(session, process.now()) : null;
      if (wrong) truth.fail(wrong.rule, wrong.sentence);
    }
    for (const player of players) player.look(changedAt);
  };
  for (const server of servers) server.changed = () => { time.after(0, look); };
  const looks = chance('looks');
  const lookOn = () => {
    look();
    time.after(story.lookMs * (0.5 + looks()), lookOn);
  };

  const does = (step: Step): void => {
    switch (step.do) {
      case 'press': meant.set(step, players[step.device]?.press(step.what, step.n) ?? 'nobody'); return;
      case 'partition': for (const d of step.devices) players[d]?.way.partition(step.directions, step.ms); return;
      case 'cut': players[step.device]?.wire.cut(step.told); return;
      case 'sleep': players[step.device]?.sleep(step.ms); return;
      case 'device-wall': players[step.device]?.clocks.setWall(step.byMs); return;
      case 'reload': players[step.device]?.reload(step.ms); return;
      case 'over':
        players[step.device]?.wire.changeOver();
        players[step.device]?.wire.cut(true);
        return;
      default: house.does(step);
    }
  };

  for (const server of servers) server.start();
  for (const player of players) player.open();
  lookOn();
  for (const step of story.steps) time.at(step.at, () => {
    does(step);
    time.after(0, look);
  });
  const failed = () => truth.failure !== null;
  await time.until(story.lengthMs, failed);
  if (!failed()) {
    const lastFaultMs = Math.max(0, ...story.steps.map((s) => s.at + ('ms' in s ? s.ms : 'downMs' in s ? s.downMs : 0)));
    await time.until(Math.max(time.now, lastFaultMs) + RIGHT_AGAIN_MS, failed);
  }
  if (!failed()) {
    look();
    truth.end();
    if (tellsOfPeople(house.written())) truth.fail('R104', 'who is here, or who leads, was written down beside the log');
    for (const player of players) if (!player.upToDate) truth.fail('W42', `${player.name} is ${player.state} long after everything was well again`);
  }
  const bounds = players.reduce((all, { tally }) => ({
    looks: all.looks + tally.looks, boundMs: all.boundMs + tally.boundMs, worstMs: Math.max(all.worstMs, tally.worstMs),
  }), { looks: 0, boundMs: 0, worstMs: 0 });
  return { failure: truth.failure, happenings: time.happenings, counts: truth.counts, bounds, meant };
}
