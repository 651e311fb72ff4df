// Several windows on one plan: one edits, the others follow or take over. A Web Lock says who edits; a channel carries what was written.

const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel('lodewright') : null;
/** How long the editing window may take to hand a plan over before it is taken, milliseconds: a frozen one never answers. */
const PATIENCE_MS = 1000;

let tell = () => {};
let turn = 0; // counts changes of mind: an answer to an earlier one is not heard
let plan = null;
let waiting = null;
let release = null;

const nameOf = (key) => `lodewright.plan.${key}`;

const editing = (mine) => (lock) => {
  if (!lock || mine !== turn) return undefined;
  waiting = null;
  tell('edits', plan, '');
  return new Promise((done) => { release = done; });
};

/** Stands in line for the plan; the line moves when the window that edits is closed or hands over. */
const stand = (mine) => {
  const key = plan;
  waiting = new AbortController();
  navigator.locks.request(nameOf(key), { signal: waiting.signal }, editing(mine)).catch(() => lost(mine));
};

/** The plan was taken by another window. */
const lost = (mine) => {
  if (mine !== turn || !release) return;
  release = null;
  follow();
};

const follow = () => {
  turn += 1;
  tell('follows', plan, '');
  stand(turn);
};

const letGo = () => {
  waiting?.abort();
  waiting = null;
  release?.();
  release = null;
};

/** Which plan this window shows; '' for none. */
const show = (key) => {
  if (plan === (key || null)) return;
  turn += 1;
  const mine = turn;
  letGo();
  plan = key || null;
  if (!plan) return;
  if (!navigator.locks) { tell('edits', plan, ''); return; }
  navigator.locks.request(nameOf(plan), { ifAvailable: true }, (lock) => {
    if (mine !== turn) return undefined;
    if (lock) return editing(mine)(lock);
    follow();
    return undefined;
  }).catch(() => lost(mine));
};

/** Asks the window that edits to hand over, and takes the plan when it does not. */
const take = () => {
  if (!plan || release || !navigator.locks) return;
  const mine = turn;
  say('give', plan, '');
  setTimeout(() => {
    if (mine !== turn || release) return;
    waiting?.abort();
    turn += 1;
    const next = turn;
    navigator.locks.request(nameOf(plan), { steal: true }, editing(next)).catch(() => lost(next));
  }, PATIENCE_MS);
};

/** Hands the plan over: what was not written yet must be written before. */
const give = () => {
  if (!release) return;
  letGo();
  follow();
};

const say = (kind, key, text) => channel?.postMessage({ kind, key, text });

/** Who is told: of `edits`, `follows`, `give` for the plan shown here, of `wrote` and `gone` for any. */
const listen = (listener) => { tell = listener; };

// A page that is left may be kept asleep, to come back to: it does not keep the plan meanwhile.
addEventListener('pagehide', () => {
  turn += 1;
  letGo();
});
addEventListener('pageshow', ({ persisted }) => {
  const key = plan;
  if (!persisted || !key) return;
  plan = null;
  show(key);
});

channel?.addEventListener('message', ({ data }) => {
  if (data?.kind === 'give' && (data.key !== plan || !release)) return;
  tell(String(data?.kind), String(data?.key), String(data?.text));
});

globalThis.lodewrightTabs = { show, take, give, say, listen };
