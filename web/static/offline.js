// Has the service worker keep the app for use without a network, and says when a new version lies ready.

let ready = null; // the waiting worker
let tell = () => {};

const waits = (worker) => {
  ready = worker;
  tell('ready');
};

/** Who is told `ready`, and `others` when other windows still run the old version. */
const listen = (listener) => {
  tell = listener;
  if (ready) tell('ready');
};

/** Takes the new version; the page is then loaded anew. */
const take = () => ready?.postMessage('take');

const register = async () => {
  const first = !navigator.serviceWorker.controller;
  const registration = await navigator.serviceWorker.register('sw.js', { updateViaCache: 'none' });
  if (registration.waiting) waits(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const worker = registration.installing;
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'installed' && navigator.serviceWorker.controller) waits(worker);
    });
  });
  let old = first;
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    // The first worker of all takes over a page that runs its version already.
    if (old) { old = false; return; }
    location.reload();
  });
  navigator.serviceWorker.addEventListener('message', (event) => tell(String(event.data)));
  // A page that stays open for days looks again when it comes into sight.
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && registration.update().catch(() => {}));
};

globalThis.lodewrightOffline = { listen, take };

/** Once the page has nothing else to do: the worker fetches every file, and what is waited for shall have the line first. */
export const start = () => {
  const idle = globalThis.requestIdleCallback ?? ((run) => setTimeout(run, 300));
  // Where there is none, or the browser refuses, the app works with a network as before.
  if (navigator.serviceWorker) idle(() => register().catch(() => {}), { timeout: 3000 });
};
