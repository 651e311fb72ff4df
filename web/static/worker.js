// Long work beside the page: the same wasm in a thread of its own. Takes a plan as text, tells how far it is, answers once.
import init, { longWork } from './app.js';

const ready = init({ module_or_path: new URL('./app_bg.wasm', import.meta.url) });

onmessage = async (event) => {
  try {
    await ready;
    const answer = await longWork(event.data, (done, of) => postMessage({ done, of }));
    postMessage({ answer });
  } catch (error) {
    postMessage({ failed: String(error) });
  }
};
