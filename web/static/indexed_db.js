// Plans in IndexedDB, beside local storage, which browsers may hold back for a minute. Two alternating numbered slots a plan, written
// in strict transactions, so that a kill at any instant leaves the last state or the last but one. Works without the app.
//
// A record is a line of JSON (number, at_ms, bytes, crc32) and then the text; an empty text says that the plan is deleted.

const NAME = 'lodewright';
/** Between two states that are put by, milliseconds. */
const PUT_BY_MS = 60_000;

let base = null;
const lastPutBy = new Map();

const asked = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => failed(request.error);
});

const open = () => {
  base ??= new Promise((done, failed) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('slots');
      request.result.createObjectStore('past');
    };
    request.onsuccess = () => {
      const opened = request.result;
      opened.onclose = () => { base = null; };
      opened.onversionchange = () => { opened.close(); base = null; };
      done(opened);
    };
    request.onerror = () => failed(request.error);
  }).catch((error) => { base = null; throw error; });
  return base;
};

/** A transaction that is done when its writes are on the disk; tried once more where the connection was lost. */
const within = async (stores, mode, work) => {
  const once = async () => {
    const opened = await open();
    return new Promise((done, failed) => {
      const transaction = opened.transaction(stores, mode, { durability: 'strict' });
      let answer;
      transaction.oncomplete = () => done(answer);
      transaction.onabort = () => failed(transaction.error ?? new DOMException('stopped', 'AbortError'));
      work(transaction).then((value) => { answer = value; }, (error) => { failed(error); try { transaction.abort(); } catch { /* it is over */ } });
    });
  };
  try {
    return await once();
  } catch (error) {
    if (!['InvalidStateError', 'UnknownError'].includes(error?.name)) throw error;
    base = null;
    return once();
  }
};

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
  for (const record of records) {
    const read = typeof record === 'string' ? parts(record) : null;
    if (read && (!best || read.number > best.number)) best = { ...read, record };
  }
  return best;
};

const slots = (key) => [`${key}/0`, `${key}/1`];

/** Every slot as [key, record]. */
export const all = () => within(['slots'], 'readonly', async (transaction) => {
  const store = transaction.objectStore('slots');
  const [keys, records] = await Promise.all([asked(store.getAllKeys()), asked(store.getAll())]);
  return keys.map((key, n) => [key, records[n]]);
});

/** The same as JSON; gives up after a while, so that a browser whose database hangs still shows what local storage has. */
const read = () => Promise.race([
  all().then((found) => JSON.stringify(found)),
  new Promise((_, failed) => { setTimeout(() => failed(new DOMException('too slow', 'TimeoutError')), 3000); }),
]);

/** The newest good record of a plan, or null. */
const latest = (key) => within(['slots'], 'readonly', async (transaction) => {
  const store = transaction.objectStore('slots');
  return newest(await Promise.all(slots(key).map((slot) => asked(store.get(slot)))))?.record ?? null;
});

/** Writes a record into its slot, if nothing newer than `after` is there. Gives `''`, `'past'` where the state before it was put by as
 * well, or the newer record that stands in the way. */
const write = (key, after, number, record) => within(['slots', 'past'], 'readwrite', async (transaction) => {
  const store = transaction.objectStore('slots');
  const old = newest(await Promise.all(slots(key).map((slot) => asked(store.get(slot)))));
  if (old && old.number > after) return old.record;
  store.put(record, slots(key)[number % 2]);
  const now = Date.now();
  const due = old?.text && (now - (lastPutBy.get(key) ?? 0) >= PUT_BY_MS || !parts(record)?.text);
  if (!due) return '';
  lastPutBy.set(key, now);
  transaction.objectStore('past').put(old.record, `${key}/${old.number}/${Math.round(old.at_ms)}/${old.text.length}`);
  return 'past';
});

/** The names of all earlier states, `plan/number/at_ms/length`, as JSON. */
const pastNames = () => within(['past'], 'readonly', async (transaction) => JSON.stringify(await asked(transaction.objectStore('past').getAllKeys())));

/** An earlier state's record, or null. */
const pastRead = (name) => within(['past'], 'readonly', async (transaction) => (await asked(transaction.objectStore('past').get(name))) ?? null);

/** Forgets these earlier states (names as JSON). */
const pastDrop = (names) => within(['past'], 'readwrite', async (transaction) => {
  for (const name of JSON.parse(names)) transaction.objectStore('past').delete(name);
});

/** What the browser says of its storage: {persisted, usage, quota} as JSON. */
const room = async () => {
  const [persisted, estimate] = await Promise.all([navigator.storage?.persisted?.(), navigator.storage?.estimate?.()]);
  return JSON.stringify({ persisted: persisted ?? null, usage: estimate?.usage ?? null, quota: estimate?.quota ?? null });
};

/** Asks the browser to keep what is stored even when room gets short. */
const persist = async () => (await navigator.storage?.persist?.()) ?? false;

globalThis.lodewrightDatabase = { read, latest, write, pastNames, pastRead, pastDrop, room, persist };
