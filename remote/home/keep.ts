/**
 * Owns keeping what is written at home between two openings: in this browser, by the file's
 * own id, where the browser allows it to a file; and the file that is saved. Leaves alone
 * what is in it (shared/home).
 */
import { z } from 'zod';
import { blockOf, type HomeFile, type HomePlan, homePlanSchema, readHome } from '../../shared/home/file.ts';
import { homePage, SCRIPT_ID, STYLE_ID } from '../../shared/home/page.ts';

const keptSchema = z.object({ at: z.number(), plans: z.array(homePlanSchema) });
export type KeptHere = z.infer<typeof keptSchema>;
const keyOf = (file: HomeFile): string => `hallclock-at-home-${file.id}`;

export function readKept(file: HomeFile): KeptHere | null {
  try {
    const text = localStorage.getItem(keyOf(file));
    const parsed = keptSchema.safeParse(text === null ? null : JSON.parse(text));
    return parsed.success ? parsed.data : null;
  } catch {
    return null;
  }
}

/** False where this browser keeps nothing for a file, or no more. */
export function keepHere(file: HomeFile, plans: readonly HomePlan[], at: number): boolean {
  try {
    localStorage.setItem(keyOf(file), JSON.stringify({ at, plans: [...plans] } satisfies KeptHere));
    return true;
  } catch {
    return false;
  }
}
/** Whether it may be tried at all. */
export function mayKeep(): boolean {
  try {
    localStorage.setItem('hallclock-try', '1');
    localStorage.removeItem('hallclock-try');
    return true;
  } catch {
    return false;
  }
}
/** Another window with the same file has kept something. */
export function onKept(file: HomeFile, tell: () => void): void {
  window.addEventListener('storage', (event) => { if (event.key === keyOf(file)) tell(); });
}

/** The file that this page is. */
export function readThis(): HomeFile | { readonly refused: string } {
  const block = document.querySelector('script[type="application/json"]');
  const read = readHome(block?.textContent ?? '');
  return 'file' in read ? read.file : read;
}

/** This page once more, with other plans in it: its own script and style, letter by letter. */
export function pageOf(file: HomeFile): string {
  const policy = document.querySelector('meta[http-equiv="Content-Security-Policy"]')?.getAttribute('content') ?? '';
  const of = (id: string): string => document.getElementById(id)?.textContent ?? '';
  return homePage({ script: of(SCRIPT_ID), style: of(STYLE_ID), policy }, file);
}
/** Only what was written, small enough for any mail; the desk takes it back, it cannot be opened. */
export const smallOf = (file: HomeFile): string => blockOf({ ...file, movements: [], pictures: {} }).replace(/^[^>]*>|<\/script>$/g, '');

/** Hands a file to the browser to save. */
export function download(name: string, type: string, content: string): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const a = document.createElement('a');
  a.href = url;
  a.download = name;
  document.body.append(a);
  a.click();
  a.remove();
  // A browser that asks where to save still reads it meanwhile.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
