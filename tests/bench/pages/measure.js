// The rows A to D, the same for every adapter. An adapter: init, seed, open, keys, get, act, merge, mergeDay, close.
// A change ends at the 'complete' event of its IndexedDB transaction: every one on the page is counted until then.
let open_count = 0;
let waiting = [];
export const seen = { durability: null };
const transaction = IDBDatabase.prototype.transaction;
IDBDatabase.prototype.transaction = function (stores, mode, options) {
  const made = transaction.call(this, stores, mode, options);
  if (mode !== "readwrite") return made;
  seen.durability ??= made.durability;
  open_count++;
  const over = () => {
    if (--open_count) return;
    const all = waiting;
    waiting = [];
    for (const resolve of all) resolve();
  };
  made.addEventListener("complete", over);
  made.addEventListener("abort", over);
  return made;
};
export const completed = () =>
  open_count ? new Promise((resolve) => waiting.push(resolve)) : Promise.resolve();

export const text = async (name) => (await fetch(`/made/${name}`)).text();
export const octets = async (name) => new Uint8Array(await (await fetch(`/made/${name}`)).arrayBuffer());
export const FIELDS = ["title", "hazard", "amount", "department", "place", "shot", "order", "note"];

/** 'Ready to render' means that every cell was read. */
function readAll(adapter, state) {
  let cells = 0;
  let letters = 0;
  for (const key of adapter.keys(state)) {
    for (const field of FIELDS) {
      const value = adapter.get(state, key, field);
      cells++;
      letters += typeof value === "string" ? value.length : 1;
    }
  }
  return `${cells}:${letters}`;
}

const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

export function measureWith(adapter) {
  const begin = async (name) => {
    const state = await adapter.open(name);
    readAll(adapter, state);
    await adapter.ready?.(state);
    await completed();
    await pause(100);
    return state;
  };
  globalThis.measure = {
    seen,
    init: () => adapter.init?.(),
    async seed(name, what) {
      await adapter.seed(name, what);
      await completed();
    },
    async A(name) {
      const start = performance.now();
      const state = await adapter.open(name);
      const cells = readAll(adapter, state);
      return { ms: performance.now() - start, cells, starting_ms: adapter.starting_ms };
    },
    async B(name, count) {
      const state = await begin(name);
      const keys = adapter.keys(state);
      const times = [];
      for (let place = 0; place < count; place++) {
        const key = keys[(place * 769) % keys.length];
        const value = adapter.get(state, key, "hazard") === "wind" ? "heat" : "wind";
        const start = performance.now();
        await adapter.act(state, key, "hazard", value);
        await completed();
        times.push(performance.now() - start);
      }
      await adapter.close(state);
      return times;
    },
    async C(name) {
      const delta = await adapter.loadDelta();
      const state = await begin(name);
      const start = performance.now();
      await adapter.merge(state, delta);
      await completed();
      const ms = performance.now() - start;
      const cells = readAll(adapter, state);
      await adapter.close(state);
      return { ms, cells };
    },
    async D(name) {
      const logs = await adapter.loadLogs();
      const state = await begin(name);
      const start = performance.now();
      await adapter.mergeDay(state, logs);
      await completed();
      const ms = performance.now() - start;
      const cells = readAll(adapter, state);
      const several = await adapter.several?.(state);
      await adapter.close(state);
      return { ms, cells, several };
    },
    more: adapter.more ?? {},
  };
}
