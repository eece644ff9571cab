/**
 * Owns what a browser says of waking: the page is shown again, comes back from its
 * cache, or has a network again. Sleep that nobody mentions is noticed by the
 * device's clocks parting (shared/time/offset.ts).
 */
export function watchWaking(wake: () => void): () => void {
  const shown = () => { if (document.visibilityState === 'visible') wake(); };
  const restored = (event: PageTransitionEvent) => { if (event.persisted) wake(); };
  document.addEventListener('visibilitychange', shown);
  window.addEventListener('pageshow', restored);
  window.addEventListener('online', wake);
  return () => {
    document.removeEventListener('visibilitychange', shown);
    window.removeEventListener('pageshow', restored);
    window.removeEventListener('online', wake);
  };
}
