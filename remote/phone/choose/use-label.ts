/** Owns the label of who teaches, kept on this device only: a convenience, never an account. */
import { useCallback, useState } from 'react';
import { INSTRUCTOR_MAX } from '../../../shared/limits.ts';

const KEY = 'hallclock.who-teaches';

/** Without spaces around it, and never longer than the wire takes. */
export const labelOf = (text: string): string => text.trim().slice(0, INSTRUCTOR_MAX).trim();

function kept(): string {
  try {
    return labelOf(localStorage.getItem(KEY) ?? '');
  } catch {
    return '';
  }
}

/** Empty where nobody said it. */
export function useLabel(): readonly [string, (text: string) => void] {
  const [label, setLabel] = useState(kept);
  const keep = useCallback((text: string) => {
    setLabel(labelOf(text));
    try {
      localStorage.setItem(KEY, labelOf(text));
    } catch {
      // A device that keeps nothing asks again the next time.
    }
  }, []);
  return [label, keep];
}
