// Yjs with y-indexeddb, as their documentation uses them.
import { IndexeddbPersistence } from "y-indexeddb";
import * as Y from "yjs";
import { measureWith, octets } from "./measure.js";

async function open(name) {
  const doc = new Y.Doc();
  const store = new IndexeddbPersistence(name, doc);
  await store.whenSynced;
  return { doc, store, records: doc.getMap("records") };
}

measureWith({
  async seed(name, what) {
    const state = await open(name);
    Y.applyUpdate(state.doc, await octets(`yjs.${what}.bin`));
    await new Promise((resolve) => setTimeout(resolve, 50));
    await state.store.destroy();
  },
  open,
  keys: (state) => [...state.records.keys()].sort(),
  get: (state, key, field) => state.records.get(key).get(field),
  act: (state, key, field, value) => state.records.get(key).set(field, value),
  loadDelta: () => octets("yjs.delta.bin"),
  merge: (state, delta) => Y.applyUpdate(state.doc, delta),
  loadLogs: async () => {
    const logs = [];
    for (let place = 0; place < 8; place++) logs.push(await octets(`yjs.log${place}.bin`));
    return logs;
  },
  mergeDay: (state, logs) =>
    state.doc.transact(() => {
      for (const log of logs) Y.applyUpdate(state.doc, log);
    }),
  close: (state) => state.store.destroy(),
});
