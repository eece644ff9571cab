/** Owns `npm run fuzz -- --messages 1000000 --requests 200000 --seed 1`. Bounded; stops by itself; 1 where something did not hold. */
import { parseArgs } from 'node:util';
import { fuzz } from './fuzz.ts';

const { values } = parseArgs({ options: { messages: { type: 'string', default: '1000000' }, requests: { type: 'string', default: '200000' }, seed: { type: 'string', default: '1' } } });
const result = await fuzz(Number(values.messages), Number(values.requests), Number(values.seed));
process.stdout.write(`seed ${values.seed}: ${result.sent} socket messages of ${result.devices} devices, ${result.http.asked} requests (${Object.entries(result.http.byStatus).map(([s, n]) => `${s}: ${n}`).join(', ')})\n`);
process.stdout.write(`memory ${result.memoryBeforeMb.toFixed(0)} MB before, ${result.memoryAfterMb.toFixed(0)} MB after\n`);
for (const problem of result.problems) process.stdout.write(`did not hold: ${problem}\n`);
process.stdout.write(result.problems.length === 0 ? 'everything held\n' : '');
process.exit(result.problems.length === 0 ? 0 : 1);
