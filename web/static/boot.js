// Starts the app, and shows the plain crash note when the wasm can't be loaded, panics or traps.
import './indexed_db.js';
import './tab_lock.js';
import { start as startOffline } from './offline.js';
import { rescue } from './rescue.js';
import init from './app.js';
import { PAGES, piece } from './pieces.js';

// The app's panic hook may call this too, with the panic's own words.
globalThis.lodewrightCrashed = (detail) => {
  const note = document.getElementById('crash');
  if (!note || !note.hidden) return; // the first cause is the one worth reading
  document.getElementById('crash-detail').textContent = String(detail);
  document.querySelector('#app main.shell')?.remove();
  note.hidden = false;
  rescue(String(detail));
};

// A wasm trap leaves the app in no state to go on; a mere script error from an extension does not.
const isTrap = (error) => error instanceof WebAssembly.RuntimeError;
addEventListener('error', (event) => isTrap(event.error) && globalThis.lodewrightCrashed(event.error));
addEventListener('unhandledrejection', (event) => isTrap(event.reason) && globalThis.lodewrightCrashed(event.reason));

// A frame of another page could lay the app invisibly under something that is clicked. A header would forbid it; not every host sends one.
const framed = globalThis.self !== globalThis.top;
if (framed) {
  document.getElementById('app').remove();
  document.getElementById('framed').hidden = false;
}

// Text never becomes a script or markup; the app's own two scripts for threads are the exception.
globalThis.trustedTypes?.createPolicy('default', {
  createScriptURL: (url) => (/^(sw|worker)\.js(\?\w+)?$/.test(url) ? url : null),
});

// Every address but that of all plans needs the pages too: they are fetched and compiled beside the app instead of after it.
if (!framed && !['', '#', '#/'].includes(location.hash)) {
  for (const address of PAGES) piece(address).catch(() => {}); // the page that needs it asks again, and says so
}

try {
  if (!framed) await init({ module_or_path: new URL('./app_bg.wasm', import.meta.url) });
} catch (error) {
  console.error(error);
  globalThis.lodewrightCrashed(error);
} finally {
  // A broken build too looks for the next one.
  if (!framed) startOffline();
}
