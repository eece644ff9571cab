/**
 * Owns the measurement of the clock estimate: ten simulated minutes on each model and seed,
 * ours beside what else people use, and one table. Alone:
 * npx tsx tests/bench/sync.ts --seeds 100 --first 1
 */
import { pathToFileURL } from 'node:url';
import { type Contender, contenders } from './sync-contenders.ts';
import { models } from './sync-models.ts';
import { onWorldTime, packaged, settle } from './sync-packages.ts';
import { type Model, World } from './sync-world.ts';
import { type Figures, Tally } from './sync-tally.ts';

/** How often the shown clock is compared with the truth, and how often in the first second and after waking. */
const LOOK_MS = 100;
const LOOK_CLOSE_MS = 10;

const measure = async (model: Model, contender: Contender, seed: number, tally: Tally): Promise<void> => {
  const world = new World(model, seed);
  const live = async (): Promise<void> => {
    const look = contender.start(world);
    const run = tally.run(world);
    const next = (): void => {
      run.look(look());
      const sinceEvent = world.awake - world.eventAt;
      const close = world.awake < 1_000 || (sinceEvent >= -LOOK_MS && sinceEvent < 1_000);
      world.after(close ? LOOK_CLOSE_MS : LOOK_MS, next);
    };
    next();
    while (world.step()) if (contender.packaged) await settle();
    run.end();
  };
  await (contender.packaged ? onWorldTime(world, live) : live());
};

const columns: readonly (keyof Figures)[] = [
  'p50', 'p95', 'p99', 'worst', 'probes', 'first', 'at first p95', 'at 0.3 s p95', 'woken p95', 'bound holds %', 'bound mean', 'back', 'slew',
];

const table = (rows: readonly (readonly string[])[]): string => {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((r) => r[i]?.length ?? 0)));
  const line = (r: readonly string[]): string =>
    `| ${r.map((c, i) => (i < 2 ? c.padEnd(widths[i] ?? 0) : c.padStart(widths[i] ?? 0))).join(' | ')} |`;
  const rule = `|${widths.map((w, i) => (i < 2 ? '-'.repeat(w + 2) : `${'-'.repeat(w + 1)}:`)).join('|')}|`;
  return [line(rows[0] ?? []), rule, ...rows.slice(1).map(line)].join('\n');
};

export interface SyncOptions {
  readonly seeds: number;
  readonly first: number;
  /** Only ours, only models whose name holds this; for trying. */
  readonly only?: string;
  readonly ours?: boolean;
}

/** Prints the table. */
export const run = async (
  options: SyncOptions = { seeds: 100, first: 1 },
  print: (text: string) => void = (text) => void process.stdout.write(`${text}\n`),
): Promise<void> => {
  const last = options.first + options.seeds - 1;
  print(`Error of the shown server time in ms, 10 simulated minutes, seeds ${options.first} to ${last}\n`);
  const rows: string[][] = [['model', 'estimator', ...columns]];
  for (const model of models.filter((m) => m.name.includes(options.only ?? ''))) {
    for (const contender of options.ours ? contenders.slice(0, 1) : [...contenders, ...packaged]) {
      const tally = new Tally();
      for (let seed = options.first; seed <= last; seed++) await measure(model, contender, seed, tally);
      const figures = tally.figures();
      rows.push([model.name, contender.name, ...columns.map((c) => figures[c])]);
    }
  }
  print(table(rows));
};

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const given = (name: string): string | undefined => {
    const i = process.argv.indexOf(`--${name}`);
    return i < 0 ? undefined : process.argv[i + 1];
  };
  const only = given('only');
  await run({
    seeds: Number(given('seeds') ?? 100),
    first: Number(given('first') ?? 1),
    ours: process.argv.includes('--ours'),
    ...(only === undefined ? {} : { only }),
  });
}
