import { expect, it } from 'vitest';
import { CHAIN_SLEW, openChainTime } from './chain-time.ts';

/** A database's clock that can be set, and servers whose crystals are off by parts in a million, on virtual time. */
function world(ppms: readonly number[]) {
  let trueMs = 0;
  let setMs = 1_800_000_000_000;
  let offsetMs = 0;
  const servers = ppms.map((ppm) => {
    const time = openChainTime();
    let sleptMs = 0;
    const own = () => ({ monotonicMs: trueMs * (1 + ppm / 1e6) - sleptMs, sleptMs });
    const ask = (thereMs: number, backMs: number, between = () => {}) => {
      const sent = own();
      time.asked(sent);
      trueMs += thereMs;
      const told = { at: trueMs + setMs + offsetMs, offsetMs };
      trueMs += backMs;
      between();
      const move = time.answered(sent, own(), told);
      // Of two who move it at once, one does.
      if (move && offsetMs === move.fromMs) offsetMs = move.toMs;
      return move;
    };
    return { time, ask, exact: () => time.exact(own()) ?? Number.NaN, sleeps: (ms: number) => { sleptMs += ms; trueMs += ms; } };
  });
  const round = () => { for (const [i, s] of servers.entries()) s.ask(0.2 + i * 0.1, 0.3); };
  for (let n = 0; n < 10; n += 1) round();
  return { servers, round, wait: (ms: number) => { trueMs += ms; }, sets: (ms: number) => { setMs += ms; }, apart: () => Math.abs((servers[0]?.exact() ?? 0) - (servers[1]?.exact() ?? 0)) };
}

it('K509 servers whose crystals part by 60 ppm stay within a millisecond of each other, and none ever runs faster or slower than a screen takes for one clock', () => {
  const w = world([30, -30]);
  const lasts = w.servers.map((s) => s.exact());
  for (let n = 0; n < 2_000; n += 1) {
    w.wait(500);
    const before = w.servers.map((s) => s.exact());
    w.round();
    for (const [i, s] of w.servers.entries()) expect(s.exact()).toBeGreaterThanOrEqual(before[i] ?? 0);
    if (n > 20) expect(w.apart()).toBeLessThan(1);
  }
  for (const [i, s] of w.servers.entries()) {
    const rate = (s.exact() - (lasts[i] ?? 0)) / (2_000 * 500 + 2_000 * 1.1);
    expect(Math.abs(rate - 1)).toBeLessThan(CHAIN_SLEW + 31e-6);
  }
});

it.each([3_600_000, -3_600_000, 700])('K509 the database\'s clock is set by %d ms: the classes\' time goes on, on all servers alike, also on one that starts later', (stepMs) => {
  const w = world([20, -10]);
  for (let n = 0; n < 50; n += 1) { w.wait(500); w.round(); }
  const [one, two] = w.servers;
  const before = one?.exact() ?? 0;
  w.sets(stepMs);
  // Both have asked before either has moved anything.
  let move: ReturnType<NonNullable<typeof two>['ask']> | undefined;
  one?.ask(0.2, 0.2, () => { move = two?.ask(0.2, 0.2); });
  expect(move).not.toBeNull();
  for (let n = 0; n < 20; n += 1) { w.wait(500); w.round(); }
  expect(w.apart()).toBeLessThan(1);
  expect((one?.exact() ?? 0) - before).toBeGreaterThan(0);
  expect((one?.exact() ?? 0) - before).toBeLessThan(11_000);
  expect(w.servers.map((s) => s.time.jumps())).toEqual([0, 0]);
});

it('K509 a server that was asleep believes the database and leaves the chain\'s time alone', () => {
  const w = world([0, 0]);
  for (let n = 0; n < 50; n += 1) { w.wait(500); w.round(); }
  w.servers[1]?.sleeps(90_000);
  expect(w.servers[1]?.ask(0.2, 0.2)).toBeNull();
  w.round();
  expect(w.apart()).toBeLessThan(1);
  expect(w.servers.map((s) => s.time.jumps())).toEqual([0, 1]);
});

it.each([[0.2, 790], [790, 0.2]])('K509 an answer that took long says little of a time that was moved: a server goes on by the time that it had, and one that was set otherwise is seen by the next quick answer (%d ms there, %d back)', (thereMs, backMs) => {
  const w = world([0, 0]);
  const [one, two] = w.servers;
  w.sets(-700);
  one?.ask(0.2, 0.2);
  two?.ask(thereMs, backMs);
  expect(w.apart()).toBeLessThan(1);
  for (let n = 0; n < 12; n += 1) { w.wait(25); w.round(); }
  expect(w.apart()).toBeLessThan(1);
  expect(w.servers.map((s) => s.time.jumps())).toEqual([0, 0]);
});
