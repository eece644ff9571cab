/**
 * Owns finding a movement by what somebody writes: its name, another name, a part
 * of it, or a slip of the pen. Slips are fuse.js's work. Leaves alone what is done
 * with the answer.
 */
import Fuse from 'fuse.js';
import type { Library, Movement } from '../../movement/movement.ts';

export type Named =
  | { readonly of: 'one'; readonly movement: Movement; readonly sure: boolean }
  | { readonly of: 'several'; readonly movements: readonly Movement[] }
  | { readonly of: 'none' };

export interface Finder {
  readonly find: (words: string) => Named;
  /** How many of these words, from the first on, are a whole name of a movement; 0 where they begin none. */
  readonly whole: (words: readonly string[]) => { readonly count: number; readonly movement: Movement } | null;
  /** For a search box: best first. Nothing typed gives everything in the library's order. */
  readonly search: (query: string, most: number) => Movement[];
}

/** What instructors also say, in the words of the library. Common practice, no source. */
const alsoSaid: Readonly<Record<string, string>> = {
  'press up': 'push up', pushup: 'push up', pressup: 'push up', 'knee press up': 'knee push up', 'wall press up': 'wall push up', 'star jump': 'jumping jack', crunch: 'curl up', 'sit up': 'curl up', situp: 'curl up',
  bridge: 'glute bridge', 'hip bridge': 'glute bridge', dip: 'chair dip', 'tricep dip': 'chair dip', 'heel raise': 'calf raise', climber: 'mountain climber', 'mtn climber': 'mountain climber',
  jogging: 'run in place', jog: 'run in place', 'jog on the spot': 'run in place', 'run on the spot': 'run in place', 'easy march': 'march in place', 'march on spot': 'march in place', 'walk on the spot': 'march in place',
  'butt kick': 'heel kick', 'butt kicker': 'heel kick', 'bum kick': 'heel kick', 'bicycle crunch': 'crossed curl', 'cross crunch': 'crossed curl',
  'rev lunge': 'reverse lunge', 'back lunge': 'reverse lunge', 'backward lunge': 'reverse lunge', 'single leg deadlift': 'single leg hinge',
  'quad str': 'front thigh stretch', 'quad stretch': 'front thigh stretch', 'ham stretch': 'hamstring stretch', 'hammy stretch': 'hamstring stretch', 'hamstring str': 'hamstring stretch', 'calf str': 'calf stretch', 'figure 4': 'figure four stretch', 'child pose': 'child s pose',
};
/** Words that may follow a name's first words without making it another movement. */
const filler = new Set(['in', 'place', 'on', 'the', 'spot']);

const singular = (word: string): string => (word.length > 2 && word.endsWith('s') && !word.endsWith('ss') ? word.slice(0, -1) : word);
/** Small letters, one blank between words, no plural. */
export const plain = (text: string): string =>
  (text.toLowerCase().normalize('NFKC').match(/[\p{L}\p{N}]+/gu) ?? []).map(singular).join(' ');

const finders = new WeakMap<Library, Finder>();

/** The finder of a library, made once. */
export function finder(library: Library): Finder {
  const made = finders.get(library) ?? make(library);
  finders.set(library, made);
  return made;
}

function make(library: Library): Finder {
  const all = [...library.values()];
  const labels = new Map<string, Set<Movement>>();
  for (const m of all) for (const label of [m.name, m.id, ...m.otherNames]) {
    const key = plain(label);
    labels.set(key, (labels.get(key) ?? new Set()).add(m));
  }
  const nameOf = new Map(all.map((m) => [plain(m.name), m]));
  const fuse = new Fuse(all, {
    keys: [{ name: 'name', weight: 3 }, { name: 'otherNames', weight: 2 }, { name: 'areas', weight: 0.5 }, { name: 'pattern', weight: 0.5 }],
    threshold: 0.4, ignoreLocation: true, includeScore: true, minMatchCharLength: 2,
  });
  const names = new Fuse([...labels].map(([label, of]) => ({ label, movement: [...of][0] as Movement })), {
    keys: ['label'], threshold: 0.35, includeScore: true, ignoreLocation: true,
  });

  const exact = (key: string): Movement | null => {
    const byName = nameOf.get(key);
    if (byName) return byName;
    const of = labels.get(key);
    return of?.size === 1 ? ([...of][0] ?? null) : null;
  };

  function find(words: string): Named {
    const said = plain(words);
    const key = alsoSaid[said] ?? said;
    if (key === '') return { of: 'none' };
    const hit = exact(key);
    if (hit) return { of: 'one', movement: hit, sure: true };
    const keyWords = key.split(' ');
    const begins = [...labels].filter(([l]) => l.startsWith(`${key} `) && l.slice(key.length + 1).split(' ').every((w) => filler.has(w)));
    const [begin] = begins;
    const first = begin && [...begin[1]][0];
    if (begins.length === 1 && first) return { of: 'one', movement: first, sure: true };
    const holding = new Set([...labels].filter(([l]) => keyWords.every((w) => l.split(' ').includes(w))).flatMap(([, of]) => [...of]));
    if (holding.size > 0) {
      const inName = (m: Movement): number => (keyWords.every((w) => plain(m.name).split(' ').includes(w)) ? 0 : 1);
      const list = [...holding].sort((a, b) => inName(a) - inName(b));
      return list.length === 1 && list[0] ? { of: 'one', movement: list[0], sure: false } : { of: 'several', movements: list.slice(0, 6) };
    }
    const near = names.search(key.slice(0, 60), { limit: 6 });
    const [best, second] = near;
    if (!best) return { of: 'none' };
    const others = near.filter((r) => r.item.movement !== best.item.movement);
    const clear = (best.score ?? 1) < 0.4 && Math.abs(best.item.label.length - key.length) <= 3 && (!second || ((others[0]?.score ?? 1) - (best.score ?? 0) > 0.1));
    if (clear) return { of: 'one', movement: best.item.movement, sure: false };
    return { of: 'several', movements: [...new Set(near.map((r) => r.item.movement))].slice(0, 4) };
  }

  function whole(words: readonly string[]): { count: number; movement: Movement } | null {
    for (let count = Math.min(words.length, 7); count > 0; count -= 1) {
      const key = plain(words.slice(0, count).join(' '));
      const hit = key === '' ? null : exact(alsoSaid[key] ?? key);
      if (hit) return { count, movement: hit };
    }
    return null;
  }

  return {
    find, whole,
    search: (query, most) => {
      const text = query.trim().slice(0, 60);
      if (text === '') return all.slice(0, most);
      const key = plain(text);
      const exactly = exact(alsoSaid[key] ?? key);
      const found = fuse.search(text, { limit: most }).map((r) => r.item);
      return [...new Set([...(exactly ? [exactly] : []), ...found])].slice(0, most);
    },
  };
}
