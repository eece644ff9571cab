/**
 * Owns noticing that the device slept or that its network came back. The
 * monotonic clock stands still in some devices' sleep, the wall clock never does:
 * when the two have moved apart, the device slept (or its wall clock was set,
 * which does no harm here).
 */

const LOOK_MS = 1_000;
/** Timers of a page in the background come up to a second late; clocks do not part by this much awake. */
const PARTED_MS = 500;

export function watchWaking(wake: () => void): () => void {
  const apart = () => Date.now() - performance.now();
  let before = apart();
  const look = () => {
    const after = apart();
    if (Math.abs(after - before) > PARTED_MS) wake();
    before = after;
  };
  const shown = () => { if (document.visibilityState === 'visible') wake(); };
  const handle = setInterval(look, LOOK_MS);
  document.addEventListener('visibilitychange', shown);
  const restored = (event: PageTransitionEvent) => { if (event.persisted) wake(); };
  window.addEventListener('pageshow', restored);
  window.addEventListener('online', wake);
  return () => {
    clearInterval(handle);
    document.removeEventListener('visibilitychange', shown);
    window.removeEventListener('pageshow', restored);
    window.removeEventListener('online', wake);
  };
}
