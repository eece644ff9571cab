/**
 * Owns which keys are the big control on this phone: three that are always so, and one more that was taught,
 * since clickers and pedals send what they like. Kept on the phone.
 */
export const USUAL = ['Enter', ' ', 'PageDown'] as const;
const KEY = 'hallclock.key';

/** Keys that mean something to the browser or to whoever moves about the page with the keyboard. */
const NEVER = new Set(['Tab', 'Escape', 'Shift', 'Control', 'Alt', 'Meta', 'CapsLock', 'Unidentified', 'Dead', 'Process', 'Backspace', 'Delete']);
export const canBeTaught = (key: string): boolean => !NEVER.has(key) && key !== '';

export function taught(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

/** @param key null forgets it */
export function teach(key: string | null): void {
  try {
    if (key === null) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, key);
  } catch { /* private windows keep nothing: the usual three will do */ }
}

export const isBig = (key: string): boolean => (USUAL as readonly string[]).includes(key) || key === taught();

/** A key as people call it. */
export const nameOf = (key: string): string => {
  if (key === ' ') return 'Space';
  const words = key.replace(/([a-z])([A-Z])/g, '$1 $2');
  return words.length === 1 ? words.toUpperCase() : words;
};
