/**
 * Owns asking the browser to keep this page for when the server is away (public/screen-worker.js). Browsers
 * allow it on the computer itself and over https; elsewhere the kiosk's own page waits (server/deploy/kiosk).
 */
/** By then sound and codes, which load apart, are there too. */
const LATER_MS = 15_000;
/** What the page needs to stand without its server. */
const partsOf = (paths: readonly string[]): readonly string[] =>
  ['/screen', ...paths.filter((p) => p.startsWith('/screen-assets/') || p.startsWith('/media/sounds/') || p === '/api/movements')];

export function keepPage(): void {
  if (!('serviceWorker' in navigator) || !window.isSecureContext || import.meta.env.DEV) return;
  // After the page stands: it is for the next time. What came before the worker was there is told to it.
  window.addEventListener('load', () => {
    navigator.serviceWorker.register('/screen-worker.js')
      .then(() => navigator.serviceWorker.ready)
      .then((ready) => {
        const tell = () => ready.active?.postMessage(partsOf(performance.getEntriesByType('resource').map((e) => new URL(e.name).pathname)));
        tell();
        setTimeout(tell, LATER_MS);
      })
      .catch(() => undefined);
  });
}
