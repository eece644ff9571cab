/** Holds the whole of it, server core, link and clocks, in random classes on a bad network with bad disks and clocks. */
import { expect, it } from 'vitest';
import { simulate } from './simulate.ts';

const CLASSES = 100;
/** With two servers on one database. */
const SHARED = 20;
const seed = process.env.HALLCLOCK_SEED ? Number(process.env.HALLCLOCK_SEED) : 20_000;

it('O40 O41 W40 W41 W42 K40 K41 K42 S102 R103 R104 random classes with faults: every screen right, nothing lost, nothing twice, nothing late; handed over, every phone is told', async () => {
  const { failure, report } = await simulate(seed, CLASSES);
  expect(failure, report).toBeNull();
});

it('K550 two servers on one database that is slow, away or silent, whose notices are lost and whose clock is set: one line of history, the same on every screen', async () => {
  const { failure, report } = await simulate(991_000, SHARED, () => {}, 2);
  expect(failure, report).toBeNull();
});

it('K550 seed 990015: an append was not answered while the same command acted through the other server, at another instant', async () => {
  const { failure, report } = await simulate(990_015, 1, () => {}, 2);
  expect(failure, report).toBeNull();
});

it.each([[990_013, 'a server that came up while the clock was set'], [990_025, 'an answer of the database that took long, after another server had moved the time'], [994_050, 'the start of a class came by a slow way, after the class that followed it']])('K507 K509 W40 seed %d: %s', async (given) => {
  const { failure, report } = await simulate(given, 1, () => {}, 2);
  expect(failure, report).toBeNull();
});
