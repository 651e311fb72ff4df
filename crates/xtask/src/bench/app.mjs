// Measures the served app in Chromium: start, edit to answer, memory, Lighthouse. `cargo xtask bench` runs it and reads the one
// line of JSON that it prints. Argument: JSON with address, chromium, flags, and the folders of playwright-core and lighthouse.
import { createRequire } from 'node:module';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const given = JSON.parse(process.argv[2]);
const load = (folder) => createRequire(join(folder, 'package.json'));
const { chromium } = load(given.playwright)('playwright-core');

const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const mark = (word) => `[data-test="${word}"]`;

/** Runs something in a browser with a profile of its own. */
async function inBrowser(work, flags = []) {
  const profile = mkdtempSync(join(tmpdir(), 'bench-'));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: given.chromium, headless: true, args: [...given.flags, ...flags], viewport: { width: 1180, height: 820 },
  });
  try {
    return await work(context, profile);
  } finally {
    await context.close();
    rmSync(profile, { recursive: true, force: true });
  }
}

/** First paint and first moment at which the page's buttons are there, in ms from the start of the navigation. */
async function start(context, slowed) {
  const page = await context.newPage();
  if (slowed) {
    const tools = await context.newCDPSession(page);
    await tools.send('Emulation.setCPUThrottlingRate', { rate: 4 });
    await tools.send('Network.enable');
    const bytesPerSecond = 9e6 / 8;
    await tools.send('Network.emulateNetworkConditions',
      { offline: false, latency: 100, downloadThroughput: bytesPerSecond, uploadThroughput: bytesPerSecond / 3 });
  }
  await page.addInitScript(() => {
    new MutationObserver((_, watch) => {
      if (document.querySelector('[data-test="new-plan"]')) {
        watch.disconnect();
        globalThis.benchReady = performance.now();
      }
    }).observe(document, { childList: true, subtree: true });
  });
  await page.goto(given.address);
  await page.waitForFunction(() => globalThis.benchReady && performance.getEntriesByName('first-contentful-paint').length);
  const times = await page.evaluate(() => ({
    paint: performance.getEntriesByName('first-contentful-paint')[0].startTime, ready: globalThis.benchReady }));
  // The second start is served by the worker that the first one installed.
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
  await page.close();
  return times;
}

async function starts(slowed) {
  const all = { cold_paint: [], cold_ready: [], warm_paint: [], warm_ready: [] };
  for (let round = 0; round < 5; round += 1) {
    await inBrowser(async (context) => {
      const cold = await start(context, slowed);
      await new Promise((done) => setTimeout(done, 500));
      const warm = await start(context, slowed);
      all.cold_paint.push(cold.paint); all.cold_ready.push(cold.ready);
      all.warm_paint.push(warm.paint); all.warm_ready.push(warm.ready);
    });
  }
  return Object.fromEntries(Object.entries(all).map(([name, list]) => [name, median(list)]));
}

/** A grid as a spreadsheet would give it: four variants; three parts take turns in a socket, in every fourth one stays. */
function grid(sockets) {
  const rows = [['', 'Spring', 'Summer', 'Autumn', 'Winter']];
  for (let s = 1; s <= sockets; s += 1) {
    const part = (v) => (s % 4 === 0 ? `Part ${s}` : `Part ${s}${'abc'[(v + s) % 3]}`);
    rows.push([`Socket ${s}`, ...[0, 1, 2, 3].map(part)]);
  }
  return rows.map((row) => row.join('\t')).join('\n');
}

/** Milliseconds from a tap on a control until the frame after something else holds than before. In the page. */
function tapToFrame([control, held]) {
  const read = () => (held ? document.querySelector(held)?.textContent : document.querySelector('[data-test="page-grid"]') !== null);
  const before = read();
  const begin = performance.now();
  const changed = new Promise((done) => {
    new MutationObserver((_, watch) => {
      if (read() !== before) { watch.disconnect(); done(); }
    }).observe(document.getElementById('app'), { childList: true, characterData: true, subtree: true });
  });
  document.querySelector(control).click();
  const shown = () => new Promise((done) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => done();
    port2.postMessage(0);
  }));
  return changed.then(shown).then(() => performance.now() - begin);
}

/** From undo or redo to the new answers on the page of joints. */
const editToAnswer = (page, button) => page.evaluate(tapToFrame, [mark(button), mark('page-joints')]);

/** From a tap on the plan among all plans to its grid, by an app that has not worked on it yet. */
async function openPlan(page) {
  await page.goto('about:blank');
  await page.goto(given.address);
  await page.waitForSelector(mark('plan-list'));
  // The pages come after this one; how long they take is told by the start.
  await page.waitForTimeout(500);
  return page.evaluate(tapToFrame, ['.plan-card h2 a', null]);
}

/** Bytes of the wasm's memory and of the script's heap. */
async function memory(context, page) {
  const tools = await context.newCDPSession(page);
  await tools.send('HeapProfiler.collectGarbage');
  // The app's own script hands out the running instance; a query of the debugger for memories makes this Chromium's page crash.
  const wasm = await page.evaluate(() => import('./app.js').then((app) => app.default()).then((instance) => instance.memory.buffer.byteLength));
  const { usedSize: script } = await tools.send('Runtime.getHeapUsage');
  return { wasm, script };
}

/** One plan: time from edit to answer, and memory after it. */
async function plan(sockets) {
  return inBrowser(async (context) => {
    const page = await context.newPage();
    await page.goto(given.address);
    if (sockets) {
      await page.click(mark('new-plan'));
      await page.click(mark('paste-grid'));
      await page.fill(mark('paste-text'), grid(sockets));
      await page.click(mark('paste-take'));
      await page.waitForSelector(mark('cell-socket-1/spring'));
    } else {
      await page.click(mark('open-demo'));
      await page.waitForSelector(mark('page-grid'));
    }
    await page.click(mark('nav-setup'));
    await page.fill('#target-warm', '55');
    await page.press('#target-warm', 'Enter');
    await page.click(mark('nav-joints'));
    await page.waitForSelector(mark('joint-row'));
    const joints = await page.locator(mark('joint-row')).count();
    const times = [];
    for (let round = 0; round < 10; round += 1) {
      times.push(await editToAnswer(page, round % 2 ? 'redo' : 'undo'));
      await page.waitForTimeout(150);
    }
    const room = await memory(context, page);
    const opened = [];
    for (let round = 0; round < 5; round += 1) {
      opened.push(await openPlan(page));
      await page.waitForTimeout(150);
    }
    return { sockets, joints, edit_ms: median(times.slice(1)), open_ms: median(opened), ...room };
  });
}

async function audit() {
  const lighthouse = (await import(load(given.lighthouse).resolve('lighthouse'))).default;
  return inBrowser(async (context, profile) => {
    const port = Number(readFileSync(join(profile, 'DevToolsActivePort'), 'utf8').split('\n')[0]);
    const { lhr } = await lighthouse(given.address, { port, output: 'json', logLevel: 'silent', onlyCategories: ['performance', 'accessibility', 'best-practices', 'seo'] });
    const scores = Object.fromEntries(Object.values(lhr.categories).map((c) => [c.id, c.score === null ? null : Math.round(c.score * 100)]));
    const value = (id) => lhr.audits[id].numericValue;
    return { ...scores, version: lhr.lighthouseVersion, largest_paint_ms: value('largest-contentful-paint'),
      blocked_ms: value('total-blocking-time'), shift: value('cumulative-layout-shift') };
  }, ['--remote-debugging-port=0']);
}

const result = { start: await starts(false), slowed: await starts(true), plans: [] };
for (const sockets of [0, 10, 40, 160]) result.plans.push(await plan(sockets));
result.audit = await audit();
console.log(JSON.stringify(result));
process.exit(0);
