/** Owns when the set-up page is open: with the key U or by the address, while the screen is free; it closes where a class begins. */
import { useEffect, useState } from 'react';

/** @param free whether the screen stands at its doors and nothing else is on it */
export function useSetUpKey(asked: boolean, free: boolean): [boolean, (open: boolean) => void] {
  const [open, setOpen] = useState(asked);
  // The page is there before the room is known: what the address asks for waits until then.
  const [wasFree, setWasFree] = useState(free);
  useEffect(() => {
    if (free) setWasFree(true);
    else if (wasFree) setOpen(false);
  }, [free, wasFree]);
  useEffect(() => {
    if (!free) return;
    const onKey = (event: KeyboardEvent) => {
      if (event.key.toLowerCase() === 'u' && !event.repeat && !event.ctrlKey && !event.metaKey && !event.altKey) setOpen((o) => !o);
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [free]);
  return [open && free, setOpen];
}
