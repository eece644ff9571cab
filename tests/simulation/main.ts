/** Owns the command line of the simulation: npm run simulate -- --classes N --seed S --servers 2. */
import { parseArgs } from 'node:util';
import { simulate } from './simulate.ts';

const { values } = parseArgs({ options: { classes: { type: 'string', default: '1000' }, seed: { type: 'string', default: '1' }, servers: { type: 'string', default: '1' } } });
const classes = Number(values.classes);
const seed = Number(values.seed);
const servers = values.servers === '2' ? 2 : 1;
if (!Number.isInteger(classes) || classes < 1 || !Number.isInteger(seed) || seed < 0 || values.servers !== String(servers)) {
  process.stderr.write('Say how many classes and which seed, in whole numbers, and one server or two: npm run simulate -- --classes 1000 --seed 1 --servers 2\n');
  process.exit(2);
}
const began = performance.now();
const result = await simulate(seed, classes, (done) => {
  if (done % 100 === 0) process.stderr.write(`${done} of ${classes}\n`);
}, servers);
const tookS = (performance.now() - began) / 1_000;
process.stdout.write(`${result.report}\n${result.classes} classes in ${tookS.toFixed(1)} s, ${(result.classes / tookS).toFixed(1)} a second\n`);
process.exit(result.failure ? 1 : 0);
