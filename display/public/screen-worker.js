/**
 * Owns that a screen can be loaded while the server is away, where a browser allows it (on this computer itself,
 * or over https): the page as it last was, its files and the movements. The server is asked first, always; what
 * is kept is only for when it does not answer. Files whose names change with what is in them are never asked for twice.
 */
const KEEP = 'hallclock-screen';
/** A server that says nothing for so long is away. */
const PATIENCE_MS = 4000;
/** Several builds of some ten files; the oldest go. */
const MOST = 80;

self.addEventListener('install', () => { self.skipWaiting(); });
self.addEventListener('activate', (event) => { event.waitUntil(self.clients.claim()); });

async function put(request, answer) {
  const cache = await caches.open(KEEP);
  await cache.put(request, answer);
  const keys = await cache.keys();
  await Promise.all(keys.slice(0, Math.max(0, keys.length - MOST)).map((key) => cache.delete(key)));
}

const kept = async (request) => (await caches.open(KEEP)).match(request, { ignoreSearch: true });

function patiently(request) {
  const limit = new AbortController();
  const timer = setTimeout(() => limit.abort(), PATIENCE_MS);
  return fetch(request, { signal: limit.signal }).finally(() => clearTimeout(timer));
}

async function serverFirst(event, name) {
  try {
    const answer = await patiently(event.request);
    if (answer.ok) event.waitUntil(put(name, answer.clone()));
    if (answer.ok || answer.status < 500) return answer;
    return (await kept(name)) || answer;
  } catch (away) {
    const before = await kept(name);
    if (before) return before;
    throw away;
  }
}

async function keptFirst(event) {
  const before = await kept(event.request);
  if (before) return before;
  const answer = await fetch(event.request);
  if (answer.status === 200) event.waitUntil(put(event.request, answer.clone()));
  return answer;
}

/** What a page was made of before this could see it being asked for. */
async function keepAll(paths) {
  const missing = [];
  for (const path of paths) if (path === '/screen' || !(await kept(path))) missing.push(path);
  await Promise.all(missing.map(async (path) => {
    const answer = await patiently(path);
    if (answer.status === 200) await put(path, answer);
  }));
}

self.addEventListener('message', (event) => { event.waitUntil(keepAll(event.data).catch(() => undefined)); });

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== location.origin) return;
  // One page for every room: the address says which.
  if (request.mode === 'navigate') {
    if (pathname === '/' || /^\/screen(\/|$)/.test(pathname)) event.respondWith(serverFirst(event, '/screen'));
  } else if (pathname.startsWith('/screen-assets/')) event.respondWith(keptFirst(event));
  else if (pathname === '/api/movements' || pathname.startsWith('/media/sounds/')) event.respondWith(serverFirst(event, pathname));
});
