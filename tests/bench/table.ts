/** Owns how a bench prints: one table, medians and 95th percentiles. */

export const percentile = (values: readonly number[], p: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor((sorted.length - 1) * p + 0.5))] ?? Number.NaN;
};
export const median = (values: readonly number[]): number => percentile(values, 0.5);

/** Prints a table to standard output; the first row is its head. */
export function table(title: string, rows: readonly (readonly (string | number)[])[]): void {
  const cells = rows.map((row) => row.map((c) => (typeof c === 'number' ? c.toFixed(3) : c)));
  const widths = (cells[0] ?? []).map((_, k) => Math.max(...cells.map((row) => (row[k] ?? '').length)));
  const line = (row: readonly string[]) => `| ${row.map((c, k) => (k === 0 ? c.padEnd(widths[k] ?? 0) : c.padStart(widths[k] ?? 0))).join(' | ')} |`;
  const [head = [], ...rest] = cells;
  process.stdout.write(`\n${title}\n${[line(head), line(widths.map((w) => '-'.repeat(w))), ...rest.map(line)].join('\n')}\n`);
}

/** Milliseconds of each of `n` runs, after a warm-up. */
export function times(n: number, run: () => void): number[] {
  for (let k = 0; k < Math.min(50, n); k += 1) run();
  return Array.from({ length: n }, () => {
    const from = performance.now();
    run();
    return performance.now() - from;
  });
}
