/**
 * Owns a bad road between a screen and its server, for the bench of that name: TCP, each way with a
 * delay of lognormal jitter; a lost packet shows as TCP shows it, as a hold of everything behind it.
 */
import { connect, createServer } from 'node:net';

const [port, host, upMs, downMs, loss] = process.argv.slice(2).map((v, k) => (k === 1 ? v : Number(v)));
/** The least time after which TCP sends again (RFC 6298 says 1 s; Linux takes 200 ms). */
const RESEND_MS = 200;
const MOST_MS = 40;

let seed = 1;
const chance = () => {
  seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
  return (seed + 0.5) / 2 ** 32;
};
const jitterMs = (median, sigma) => Math.min(MOST_MS, median * Math.exp(sigma * Math.sqrt(-2 * Math.log(chance())) * Math.cos(2 * Math.PI * chance())));

function way(from, to, leastMs, median, sigma) {
  let free = 0;
  // One after another, whatever the timers do: TCP keeps the order.
  let line = Promise.resolve();
  const later = (run) => {
    free = Math.max(free, performance.now() + leastMs + jitterMs(median, sigma) + (chance() < loss ? RESEND_MS : 0));
    const due = free;
    line = line.then(() => new Promise((resolve) => { setTimeout(resolve, Math.max(0, due - performance.now())); })).then(run);
  };
  from.on('data', (bytes) => later(() => { if (to.writable) to.write(bytes); }));
  from.on('end', () => later(() => to.end()));
  from.on('error', () => to.destroy());
}
createServer({ allowHalfOpen: true }, (near) => {
  const far = connect({ port: 8080, host, allowHalfOpen: true });
  for (const s of [near, far]) s.setNoDelay(true);
  way(near, far, upMs, 5, 1);
  way(far, near, downMs, 3, 0.9);
}).listen(port, () => process.send?.({ port }));
for (const end of ['SIGTERM', 'disconnect']) process.on(end, () => process.exit(0));
