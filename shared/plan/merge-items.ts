/**
 * Owns bringing the movements of a section together. They have no names of their own, so
 * they are laid beside each other by the longest run that all have in common (as diff3
 * does: Khanna, Kunal, Pierce 2007): what both still have is merged field by field, a
 * stretch that only one changed is that one's, a stretch that both changed is a conflict.
 */
import type { Item, Section } from './plan.ts';
import { type Fields, fieldName, quoted, same, type Tally } from './merge-fields.ts';

/** For each of `from` the place in `to` of its like in a longest common subsequence, or -1. */
function matches(from: readonly Item[], to: readonly Item[]): number[] {
  const rows = Array.from({ length: from.length + 1 }, () => new Array<number>(to.length + 1).fill(0));
  const at = (i: number, k: number): number => rows[i]?.[k] ?? 0;
  for (let i = from.length - 1; i >= 0; i -= 1) {
    for (let k = to.length - 1; k >= 0; k -= 1) {
      (rows[i] as number[])[k] = from[i]?.movement === to[k]?.movement ? at(i + 1, k + 1) + 1 : Math.max(at(i + 1, k), at(i, k + 1));
    }
  }
  const out = new Array<number>(from.length).fill(-1);
  for (let i = 0, k = 0; i < from.length && k < to.length;) {
    if (from[i]?.movement === to[k]?.movement) out[i++] = k++;
    else if (at(i + 1, k) >= at(i, k + 1)) i += 1;
    else k += 1;
  }
  return out;
}

/** @param section as mine has it, for the words */
export function mergeItems(tally: Tally, section: Section, base: readonly Item[], mine: readonly Item[], theirs: readonly Item[]): readonly Item[] {
  if (same(mine, theirs) || same(theirs, base)) return mine;
  if (same(mine, base)) {
    tally.took(`the movements of ${quoted(section)}`);
    return theirs;
  }
  const [inMine, inTheirs] = [matches(base, mine), matches(base, theirs)];
  const out: Item[] = [];
  let [b, m, t] = [0, 0, 0];
  const stretch = (toB: number, toM: number, toT: number) => {
    const [was, own, other] = [base.slice(b, toB), mine.slice(m, toM), theirs.slice(t, toT)];
    const place = { at: `${section.id}/items/${b}`, where: `the movements of ${quoted(section)}`, field: 'items', section };
    out.push(...tally.pick<readonly Item[]>(place, was, own, other));
    [b, m, t] = [toB, toM, toT];
  };
  base.forEach((was, k) => {
    const [i, j] = [inMine[k] ?? -1, inTheirs[k] ?? -1];
    if (i < 0 || j < 0) return;
    stretch(k, i, j);
    const [own, other] = [mine[i], theirs[j]];
    const placeOf = (field: string) => ({
      at: `${section.id}/items/${k}/${field}`, where: `${fieldName(field)} of ${was.movement.replaceAll('-', ' ')} in ${quoted(section)}`, field, section, movement: was.movement,
    });
    out.push(tally.fields(was as Fields, own as Fields, other as Fields, [], placeOf) as Item);
    [b, m, t] = [k + 1, i + 1, j + 1];
  });
  stretch(base.length, mine.length, theirs.length);
  return out;
}
