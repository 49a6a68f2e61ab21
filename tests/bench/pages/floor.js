// The floor: what IndexedDB alone costs. One row a record, the last one written wins; no copy would agree with another.
import { openDB } from "idb";
import { measureWith, text } from "./measure.js";

const durability = globalThis.DURABILITY;
const openTable = (name) =>
  openDB(name, 1, {
    upgrade(database) {
      database.createObjectStore("records", { keyPath: "key" });
    },
  });

async function put(database, rows) {
  const tx = database.transaction("records", "readwrite", { durability });
  for (const row of rows) tx.store.put(row);
  await tx.done;
}

async function apply(state, edits) {
  const touched = new Set();
  for (const [key, field, value] of edits) {
    state.rows.get(key)[field] = value;
    touched.add(key);
  }
  await put(
    state.database,
    [...touched].map((key) => state.rows.get(key)),
  );
}

measureWith({
  async seed(name, what) {
    const rows = JSON.parse(await text(what === "base" ? "base_rows.json" : "rows.json"));
    const database = await openTable(name);
    await put(
      database,
      Object.entries(rows).map(([key, row]) => ({ key, ...row })),
    );
    database.close();
  },
  async open(name) {
    const database = await openTable(name);
    const rows = await database.getAll("records");
    return { database, rows: new Map(rows.map((row) => [row.key, row])) };
  },
  keys: (state) => [...state.rows.keys()].sort(),
  get: (state, key, field) => state.rows.get(key)[field],
  act: (state, key, field, value) => apply(state, [[key, field, value]]),
  loadDelta: async () => JSON.parse(await text("plain_delta.json")),
  merge: apply,
  loadLogs: async () => JSON.parse(await text("plain_logs.json")),
  mergeDay: (state, logs) => apply(state, logs.flat()),
  close: (state) => state.database.close(),
});
