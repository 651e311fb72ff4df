// Plans in IndexedDB, beside local storage, which browsers may hold back for a minute. Two numbered slots a plan, the older one written
// each time, so that a kill at any instant leaves the last state or the last but one. A write is with the system before it is answered,
// which outlives the browser; `settle` has it on the disk, which outlives the system. Works without the app.
//
// A record is a line of JSON (number, at_ms, bytes, crc32) and then the text; an empty text says that the plan is deleted.

const NAMES = { slots: 'lodewright', past: 'lodewright', drafts: 'lodewright.drafts' };
const STORES = { lodewright: ['slots', 'past'], 'lodewright.drafts': ['drafts'] };
/** Between two states that are put by, milliseconds. */
const PUT_BY_MS = 60_000;
/** A database that has not answered a call by then is taken not to answer at all, milliseconds. */
const LIMIT_MS = 3000;

const bases = new Map();
const lastPutBy = new Map();

const asked = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => failed(request.error);
});

const open = (name) => {
  if (bases.has(name)) return bases.get(name);
  const base = new Promise((done, failed) => {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => STORES[name].forEach((store) => request.result.createObjectStore(store));
    request.onsuccess = () => {
      const opened = request.result;
      const forget = () => { opened.close(); if (bases.get(name) === base) bases.delete(name); };
      opened.onclose = forget;
      opened.onversionchange = forget;
      done(opened);
      if (bases.get(name) !== base) forget(); // it came when nobody waited any more
    };
    request.onerror = () => failed(request.error);
  });
  bases.set(name, base);
  base.catch(() => { if (bases.get(name) === base) bases.delete(name); });
  return base;
};

/** Whoever asked hears why there is no answer; where the page has gone on since, nobody needs to. */
const heard = (promise) => { promise.catch(() => {}); return promise; };

/** A transaction whose answer comes when its writes are with the system, or on the disk where it is `strict`; tried once more where the
 * connection was lost. After the limit it is stopped, so that what comes too late changes nothing. */
const within = (stores, mode, work, durability = 'relaxed') => heard(new Promise((done, failed) => {
  const name = NAMES[stores[0]];
  let transaction = null;
  let over = false;
  const stop = () => { try { transaction?.abort(); } catch { /* it is over */ } };
  const timer = setTimeout(() => {
    over = true;
    stop();
    bases.get(name)?.then((opened) => opened.close(), () => {});
    bases.delete(name);
    failed(new DOMException('no answer', 'TimeoutError'));
  }, LIMIT_MS);
  const once = async () => {
    const opened = await open(name);
    if (over) return undefined;
    return new Promise((taken, refused) => {
      transaction = opened.transaction(stores, mode, { durability });
      let answer;
      transaction.oncomplete = () => taken(answer);
      transaction.onabort = () => refused(transaction.error ?? new DOMException('stopped', 'AbortError'));
      work(transaction).then((value) => { answer = value; }, (error) => { refused(error); stop(); });
    });
  };
  const again = (error) => {
    if (over || !['InvalidStateError', 'UnknownError'].includes(error?.name)) throw error;
    bases.delete(name);
    return once();
  };
  once().catch(again).then(done, failed).finally(() => clearTimeout(timer));
}));

const table = Array.from({ length: 256 }, (_, n) => {
  for (let bit = 0; bit < 8; bit += 1) n = n & 1 ? (n >>> 1) ^ 0xedb88320 : n >>> 1;
  return n >>> 0;
});

/** The record in parts, or null where it is torn or none: the check sum is CRC-32 as in ISO 3309. */
export const parts = (record) => {
  try {
    const end = record.indexOf('\n');
    const head = JSON.parse(record.slice(0, end));
    const text = record.slice(end + 1);
    const bytes = new TextEncoder().encode(text);
    let sum = 0xffffffff;
    for (const byte of bytes) sum = table[(sum ^ byte) & 255] ^ (sum >>> 8);
    const crc32 = ((sum ^ 0xffffffff) >>> 0).toString(16).padStart(8, '0');
    return head.bytes === bytes.length && head.crc32 === crc32 ? { number: head.number, at_ms: head.at_ms, text } : null;
  } catch {
    return null;
  }
};

const newest = (records) => {
  let best = null;
  records.forEach((record, slot) => {
    const read = typeof record === 'string' ? parts(record) : null;
    if (read && (!best || read.number > best.number)) best = { ...read, record, slot };
  });
  return best;
};

const slots = (key) => [`${key}/0`, `${key}/1`];

/** The newest good record of a plan in parts, with the slot that it is in. */
const best = async (store, key) => newest(await Promise.all(slots(key).map((slot) => asked(store.get(slot)))));

/** Every slot as [key, record]. */
export const all = () => within(['slots'], 'readonly', async (transaction) => {
  const store = transaction.objectStore('slots');
  const [keys, records] = await Promise.all([asked(store.getAllKeys()), asked(store.getAll())]);
  return keys.map((key, n) => [key, records[n]]);
});

/** The same as JSON. */
const read = async () => JSON.stringify(await all());

/** The newest good record of a plan, or null. */
const latest = (key) => within(['slots'], 'readonly', async (transaction) => (await best(transaction.objectStore('slots'), key))?.record ?? null);

/** Writes a record over the older slot, if nothing newer than `after` is there. Gives `''`, `'past'` where the state before it was put by as
 * well, or the newer record that stands in the way. */
const write = (key, after, record) => within(['slots', 'past'], 'readwrite', async (transaction) => {
  const store = transaction.objectStore('slots');
  const old = await best(store, key);
  if (old && old.number > after) return old.record;
  store.put(record, slots(key)[old?.slot === 0 ? 1 : 0]);
  const now = Date.now();
  const due = old?.text && (now - (lastPutBy.get(key) ?? 0) >= PUT_BY_MS || !parts(record)?.text);
  if (!due) return '';
  lastPutBy.set(key, now);
  transaction.objectStore('past').put(old.record, `${key}/${old.number}/${Math.round(old.at_ms)}/${old.text.length}`);
  return 'past';
});

/** Has everything that was written on the disk, where a failing machine finds it again. */
const settle = (key) => within(['slots'], 'readwrite', async (transaction) => {
  const store = transaction.objectStore('slots');
  const old = await best(store, key);
  if (old) store.put(old.record, slots(key)[old.slot]);
}, 'strict');

/** The names of all earlier states, `plan/number/at_ms/length`, as JSON. */
const pastNames = () => within(['past'], 'readonly', async (transaction) => JSON.stringify(await asked(transaction.objectStore('past').getAllKeys())));

/** An earlier state's record, or null. */
const pastRead = (name) => within(['past'], 'readonly', async (transaction) => (await asked(transaction.objectStore('past').get(name))) ?? null);

/** Forgets these earlier states (names as JSON). */
const pastDrop = (names) => within(['past'], 'readwrite', async (transaction) => {
  for (const name of JSON.parse(names)) transaction.objectStore('past').delete(name);
});

/** All drafts as JSON: pairs of key and text. */
const drafts = () => within(['drafts'], 'readonly', async (transaction) => {
  const store = transaction.objectStore('drafts');
  const [keys, texts] = await Promise.all([asked(store.getAllKeys()), asked(store.getAll())]);
  return JSON.stringify(keys.map((key, n) => [key, texts[n]]));
});

/** Writes drafts, pairs of key and text as JSON; a text of null takes a draft away. */
const putDrafts = (pairs) => within(['drafts'], 'readwrite', async (transaction) => {
  const store = transaction.objectStore('drafts');
  for (const [key, text] of JSON.parse(pairs)) if (text === null) store.delete(key); else store.put(text, key);
});

/** What the browser says of its storage: {persisted, usage, quota} as JSON. */
const room = async () => {
  const [persisted, estimate] = await Promise.all([navigator.storage?.persisted?.(), navigator.storage?.estimate?.()]);
  return JSON.stringify({ persisted: persisted ?? null, usage: estimate?.usage ?? null, quota: estimate?.quota ?? null });
};

/** Asks the browser to keep what is stored even when room gets short. */
const persist = async () => (await navigator.storage?.persist?.()) ?? false;

globalThis.lodewrightDatabase = { read, latest, write, settle, pastNames, pastRead, pastDrop, drafts, putDrafts, room, persist };
