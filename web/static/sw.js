// Keeps the app working without a network: every file of one build, checked against its hash, all or none.
// `cargo xtask` fills in the two constants; a new build is a new script, and waits until the builder takes it.

const BUILD = 'BUILD';
const FILES = {};

const PREFIX = `lodewright ${self.registration.scope} `;
const CACHE = PREFIX + BUILD;

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    // A file of another build has another hash: then nothing is installed, and the next visit tries again. What the page has
    // fetched a moment ago is only asked for again, not sent again.
    const requests = Object.entries(FILES).map(([path, integrity]) => new Request(path, { cache: 'no-cache', integrity }));
    await cache.addAll(requests);
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    const old = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
    await Promise.all(old.map((name) => caches.delete(name)));
    await self.clients.claim();
  })());
});

/** A page that says `take` gets the new build, unless other windows still run the old one. */
self.addEventListener('message', (event) => {
  if (event.data !== 'take') return;
  event.waitUntil((async () => {
    const pages = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
    if (pages.length > 1) event.source?.postMessage('others');
    else await self.skipWaiting();
  })());
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || !request.url.startsWith(self.registration.scope)) return;
  const path = address.pathname.slice(new URL(self.registration.scope).pathname.length) || 'index.html';
  if (!(path in FILES)) return;
  event.respondWith((async () => {
    const cache = await caches.open(CACHE);
    return (await cache.match(new URL(path, self.registration.scope), { ignoreSearch: true })) ?? fetch(request);
  })());
});
