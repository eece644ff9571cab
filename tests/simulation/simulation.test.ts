/** Holds the whole of it, server core, link and clocks, in random classes on a bad network with bad disks and clocks. */
import { expect, it } from 'vitest';
import { simulate } from './simulate.ts';

const CLASSES = 100;
const seed = process.env.HALLCLOCK_SEED ? Number(process.env.HALLCLOCK_SEED) : 20_000;

it('O40 O41 W40 W41 W42 K40 K41 K42 S102 R103 R104 random classes with faults: every screen right, nothing lost, nothing twice, nothing late; handed over, every phone is told', async () => {
  const { failure, report } = await simulate(seed, CLASSES);
  expect(failure, report).toBeNull();
});
