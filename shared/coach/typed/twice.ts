/** Owns noticing that something was written twice of one movement or section, and differently: the first stands, and it is asked. */
import { longS } from '../words.ts';
import type { ItemDraft, SectionDraft } from './draft.ts';

interface Was { readonly item: Partial<ItemDraft>; readonly fields: SectionDraft['fields']; readonly own: Readonly<Record<'length' | 'every' | 'lasts' | 'betweenRounds', number | undefined>> }

const watched = ['work', 'rest', 'setUp', 'target', 'sides', 'lead', 'ends', 'show', 'bare', 'rounds', 'way', 'showEstimate', 'sets', 'each', 'length', 'every', 'lasts', 'betweenRounds'] as const;

const alike = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

function inWords(key: (typeof watched)[number], value: unknown): string {
  if (typeof value === 'number') return key === 'rounds' ? `${value} ${value === 1 ? 'round' : 'rounds'}` : key === 'bare' ? `${value}` : longS(value);
  if (key === 'target') return `${(value as { n: number }).n} ${(value as { of: string }).of}`;
  if (key === 'sets') return `${(value as { rounds: number }).rounds} sets`;
  if (key === 'each') return longS((value as { s: number }).s);
  return key === 'rounds' ? 'a ladder' : 'something else';
}

/** What stood there before, in words, where it was other than what is written now; it stands again then. Null where nothing was. */
export function writtenTwice(item: ItemDraft | null, section: SectionDraft, was: Was): string | null {
  const places: readonly (readonly [Record<string, unknown>, Record<string, unknown>])[] = [
    ...(item ? [[item as unknown as Record<string, unknown>, was.item as Record<string, unknown>] as const] : []),
    [section.fields as Record<string, unknown>, was.fields as Record<string, unknown>],
    [section as unknown as Record<string, unknown>, was.own as Record<string, unknown>],
  ];
  for (const [now, before] of places) for (const key of watched) {
    if (before[key] === undefined || alike(before[key], now[key])) continue;
    const first = before[key];
    for (const k of watched) if (before[k] !== undefined) now[k] = before[k];
    return inWords(key, first);
  }
  return null;
}
