// After a crash, without the app: the last good state of every plan as a file, and a report of what was done last.

import { all, parts } from './indexed_db.js';

const PLAN = 'lodewright.plan.';

/** Every plan's newest good text, by key, from both places. */
const plans = async () => {
  const best = new Map();
  const take = (key, record) => {
    const read = parts(record) ?? (record.startsWith('{\n') ? { number: 0, at_ms: 0, text: record } : null); // stored before there were numbers
    if (read && read.number >= (best.get(key)?.number ?? 0)) best.set(key, read);
  };
  try {
    for (let n = 0; n < localStorage.length; n += 1) {
      const key = localStorage.key(n);
      if (key.startsWith(PLAN)) take(key.slice(PLAN.length), localStorage.getItem(key));
    }
  } catch { /* closed: the database may still have them */ }
  try {
    for (const [slot, record] of await all()) take(slot.slice(0, slot.lastIndexOf('/')), record);
  } catch { /* none: local storage may still have them */ }
  return [...best].filter(([, { text }]) => text).sort((a, b) => b[1].at_ms - a[1].at_ms);
};

const download = (name, text) => {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
};

const trail = () => {
  try {
    return ['lodewright.trail.before', 'lodewright.trail'].map((key) => JSON.parse(sessionStorage.getItem(key) ?? 'null')).filter(Boolean);
  } catch {
    return [];
  }
};

/** What went wrong and the last fifty actions: by name alone, or whole, with the plan that they were done to. */
const report = (detail, whole) => {
  const trails = trail();
  const names = trails.flatMap(({ steps }) => steps.map(({ at_ms, name }) => ({ at_ms, name }))).slice(-50);
  // A panic's words may quote what was typed; its place in the program may not.
  const said = whole ? detail : (/[\w/.-]+\.rs:\d+:\d+/.exec(detail)?.[0] ?? detail.split('\n')[0].slice(0, 80));
  const body = { report: 'lodewright', version: 1, said, browser: navigator.userAgent, actions: names };
  return JSON.stringify(whole ? { ...body, trails } : body, null, 1);
};

const button = (word, test, run) => {
  const made = document.createElement('button');
  made.type = 'button';
  made.textContent = word;
  made.dataset.test = test;
  made.addEventListener('click', run);
  return made;
};

/** Fills the crash note with the ways out. */
export const rescue = async (detail) => {
  const place = document.getElementById('crash-ways');
  place.replaceChildren(
    button('Save a report without the plan', 'crash-report', () => download('lodewright-report.json', report(detail, false))),
    button('Save a report with the plan', 'crash-report-whole', () => download('lodewright-report.json', report(detail, true))),
  );
  for (const [key, { text }] of await plans()) {
    let title = key;
    try { title = JSON.parse(text).plan.title; } catch { /* its key says it as well */ }
    const file = `${String(title).replace(/[\\/:*?"<>|\p{Cc}]/gu, '-').slice(0, 80)}.lodewright.json`;
    place.append(button(`Save \u201c${title}\u201d as a file`, `crash-save-${key}`, () => download(file, text)));
  }
};
