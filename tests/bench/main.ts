/** Owns `npm run bench`: every bench there is, or those that are named. */
const benches: Record<string, () => Promise<{ run: () => void | Promise<void> }>> = {
  clock: () => import('./clock.ts'),
  fanout: () => import('./fanout.ts'),
  cost: () => import('./cost.ts'),
  capacity: () => import('./capacity.ts'),
  restart: () => import('./restart.ts'),
  stall: () => import('./stall.ts'),
  net: () => import('./net.ts'),
  tap: () => import('./tap.ts'),
  sync: () => import('./sync.ts'),
  ways: () => import('./ways.ts'),
  review: () => import('./review.ts'),
  screen: () => import('./screen.ts'),
  abuse: () => import('./abuse.ts'),
  flashes: () => import('./flashes.ts'),
  door: () => import('./door.ts'),
  chain: () => import('./chain.ts'),
  'chain-load': () => import('./chain-load.ts'),
  apart: () => import('./apart.ts'),
  view: () => import('./view.ts'),
};

const named = process.argv.slice(2).filter((a) => !a.startsWith('-'));
for (const name of named.length > 0 ? named : Object.keys(benches)) {
  const load = benches[name];
  if (!load) {
    process.stderr.write(`There is no bench "${name}". There are: ${Object.keys(benches).join(', ')}.\n`);
    process.exit(2);
  }
  await (await load()).run();
}

export {};
