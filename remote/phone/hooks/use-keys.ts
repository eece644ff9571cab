/** Owns the pedal, the clicker and any keyboard: the keys of keys/taught.ts do what the big control does. A held key is one press. */
import { useEffect, useRef } from 'react';
import { isBig } from '../keys/taught.ts';

/** Whoever writes, or stands on another button, means that and not the big control. */
const meansItself = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.closest('input, textarea, select, button, a, dialog') !== null;

const writes = (target: EventTarget | null): boolean => target instanceof HTMLElement && target.closest('input, textarea, select') !== null;

/** A thumb leaves its button focused; without this a pedal would press that one again. */
function letGo(event: MouseEvent): void {
  const button = event.target instanceof HTMLElement ? event.target.closest('button') : null;
  if (event.detail > 0 && button && !button.closest('dialog')) button.blur();
}

export function useKeys(press: () => void): void {
  const latest = useRef(press);
  latest.current = press;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!isBig(event.key) || event.ctrlKey || event.metaKey || event.altKey) return;
      // Page Down and what was taught mean nothing to a button; a letter means itself to whoever writes.
      const plain = event.key === ' ' || event.key === 'Enter' || (event.key.length === 1 && writes(event.target));
      if (meansItself(event.target) && plain) {
        // A held key would press a button again and again.
        if (event.repeat && event.target instanceof HTMLButtonElement) event.preventDefault();
        return;
      }
      event.preventDefault();
      if (!event.repeat) latest.current();
    };
    window.addEventListener('keydown', onKey);
    window.addEventListener('click', letGo);
    return () => {
      window.removeEventListener('keydown', onKey);
      window.removeEventListener('click', letGo);
    };
  }, []);
}
