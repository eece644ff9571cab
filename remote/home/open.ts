/** Owns the file while it is open: its plans with what was written since, whether that is kept, and saving it as a file. */
import type { HomeFile } from '../../shared/home/file.ts';
import type { DeviceClock } from '../../shared/link/device-clock.ts';
import { same } from '../../shared/plan/merge.ts';
import { download, keepHere, mayKeep, onKept, pageOf, readKept, smallOf } from './keep.ts';
import { homeStudio } from './studio.ts';

export interface Standing {
  /** Plans that are otherwise than in the file that was opened or saved last. */
  readonly unsaved: number;
  /** Whether this browser keeps what is written until the file is opened in it again. */
  readonly kept: boolean;
  /** Told after each change. */
  readonly turn: number;
  /** What was written in this browser before it was opened now. */
  readonly before: boolean;
  readonly savedAt: number | null;
}

export function openHome(file: HomeFile, clock: Pick<DeviceClock, 'wallMs'>) {
  const now = (): number => Math.floor(clock.wallMs());
  const kept = readKept(file);
  const newer = kept !== null && kept.at > (file.savedAt ?? file.takenAt) ? kept : null;
  let inFile = file.plans;
  let standing: Standing = { unsaved: 0, kept: mayKeep(), turn: 0, before: newer !== null, savedAt: file.savedAt };
  const listeners = new Set<() => void>();
  const tell = (more: Partial<Standing> = {}) => {
    const plans = studio.plans();
    standing = { ...standing, ...more, turn: standing.turn + 1, unsaved: plans.filter((p) => !same(p, inFile.find((f) => f.now.id === p.now.id))).length };
    for (const listener of listeners) listener();
  };
  const studio = homeStudio(newer ? { ...file, plans: newer.plans } : file, now, () => tell({ kept: keepHere(file, studio.plans(), now()) }));
  onKept(file, () => {
    const theirs = readKept(file);
    if (theirs) studio.takeIn(theirs.plans);
    tell();
  });
  if (newer) tell();

  const name = (ending: string): string => {
    const at = new Date(now());
    const two = (n: number): string => String(n).padStart(2, '0');
    const base = file.studio.normalize('NFD').toLowerCase().replace(/\p{M}/gu, '').replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 50) || 'studio';
    return `at-home-${base}-${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}-${two(at.getHours())}${two(at.getMinutes())}.${ending}`;
  };
  const save = (what: 'page' | 'small') => {
    const savedAt = now();
    const saved: HomeFile = { ...file, plans: [...studio.save()], savedAt };
    if (what === 'page') download(name('html'), 'text/html', pageOf(saved));
    else download(name('json'), 'application/json', smallOf(saved));
    inFile = saved.plans;
    keepHere(file, saved.plans, savedAt);
    tell({ savedAt });
  };
  return {
    file, studio, save,
    standing: () => standing,
    subscribe: (listener: () => void) => {
      listeners.add(listener);
      return () => { listeners.delete(listener); };
    },
  };
}
export type HomeOpen = ReturnType<typeof openHome>;
