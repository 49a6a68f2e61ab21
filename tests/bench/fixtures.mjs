// Makes, once, what each adapter reads: the day as edit texts, as Yjs updates made by eight replicas, as plain rows.
import { execFileSync } from "node:child_process";
import { createHash, randomBytes } from "node:crypto";
import fs from "node:fs";
import path from "node:path";
import * as Y from "yjs";
import { gzipped } from "./statistics.mjs";
import { FIELDS, makeDay } from "./workload.mjs";

export const DAY = "d7k2";
const START_MS = Date.UTC(2026, 5, 1, 5, 0, 0);

const idOf = (text, incarnation, number) =>
  `${incarnation}.${number}.${createHash("sha256").update(text).digest().subarray(0, 12).toString("base64url")}`;

/** An edit's canonical text: fields sorted, no white space, eight random characters. */
function textOf({ incarnation, number, at_ms, by, how, record, changes }) {
  const [kind, id] = record.split("/");
  const salt = randomBytes(6).toString("base64url");
  const rows = changes
    .map(([field, value, seen]) => [field, value, [...seen].sort()])
    .sort((a, b) => (a[0] < b[0] ? -1 : 1));
  return JSON.stringify([1, DAY, "floor", incarnation, number, salt, 1, at_ms, by, "", how, kind, id, rows]);
}

/** Edits as a page carries them, written by the server's own code. */
function linesOf(texts) {
  const api = path.join(import.meta.dirname, "..", "..", "backend", "tailslate", "api");
  const write = `import json, sys; sys.path.insert(0, ${JSON.stringify(api)}); import edit_lines
json.dump(edit_lines.lines_of(json.load(sys.stdin), day="${DAY}", set_name="floor"), sys.stdout)`;
  const options = { input: JSON.stringify(texts), maxBuffer: 1 << 28 };
  return JSON.parse(execFileSync(process.env.PYTHON ?? "python3", ["-c", write], options));
}

/** The whole day as texts: the base (one edit a record), then the edits in the order of the hub. */
export function editTexts(day) {
  const base_ids = {};
  const base = day.records.map((record, place) => {
    const changes = FIELDS.map((field) => [field, day.base[record][field], []]);
    const text = textOf({
      incarnation: "base000000",
      number: place + 1,
      at_ms: START_MS,
      by: "p-office",
      how: "import",
      record,
      changes,
    });
    base_ids[record] = idOf(text, "base000000", place + 1);
    return text;
  });
  const made = new Map();
  for (const edit of day.edits) {
    const seen = edit.seen.map((one) => (one[0] ? made.get(String(one)).id : base_ids[edit.record]));
    const incarnation = `device000${edit.device}`;
    const changes = [[edit.field, edit.value, seen]];
    const text = textOf({
      incarnation,
      number: edit.number,
      at_ms: edit.at_ms,
      by: `p-${edit.device}`,
      how: "",
      record: edit.record,
      changes,
    });
    made.set(`${edit.device},${edit.number}`, { text, id: idOf(text, incarnation, edit.number) });
  }
  const text = (edit) => made.get(`${edit.device},${edit.number}`).text;
  return { base, text, hub: day.hub.map(text) };
}

const pending = (day) => day.edits.filter((edit) => edit.device === 8 && day.hub.indexOf(edit) >= day.before);
const delta = (list, day) => list.slice(day.before, day.before + 500);
const byDevice = (day) =>
  Array.from({ length: day.devices }, (_, place) => day.edits.filter((edit) => edit.device === place + 1));

/** Yjs: eight replicas with true causal histories. */
function yjsUpdates(day) {
  const doc = new Y.Doc();
  doc.clientID = 100;
  doc.transact(() => {
    const records = doc.getMap("records");
    for (const record of day.records) {
      const fields = new Y.Map();
      for (const field of FIELDS) fields.set(field, day.base[record][field]);
      records.set(record, fields);
    }
  });
  const base = Y.encodeStateAsUpdate(doc);
  const replicas = Array.from({ length: day.devices + 1 }, (_, device) => {
    const replica = new Y.Doc();
    replica.clientID = device || 99;
    Y.applyUpdate(replica, base);
    return { replica, pulled: 0, unsent: [] };
  });
  const hub = [];
  const found = { base };
  const of_edit = new Map();
  let vector;
  for (const [place, step] of day.log.entries()) {
    const eighth = replicas[8].replica;
    if (place === day.barrier) {
      found.before = Y.encodeStateAsUpdate(eighth);
      vector = Y.encodeStateVector(eighth);
    }
    if (place === day.reconnect) {
      found.pending = Y.encodeStateAsUpdate(eighth);
      found.delta = Y.encodeStateAsUpdate(replicas[1].replica, vector);
    }
    if (step.edit) {
      const { device, record, field, value } = step.edit;
      const one = replicas[device];
      const keep = (update) => of_edit.set(step.edit, update);
      one.replica.on("update", keep);
      one.replica.getMap("records").get(record).set(field, value);
      one.replica.off("update", keep);
      one.unsent.push(step.edit);
    } else {
      const one = replicas[step.sync];
      hub.push(...one.unsent);
      one.unsent = [];
      one.replica.transact(() => {
        for (; one.pulled < hub.length; one.pulled++)
          Y.applyUpdate(one.replica, of_edit.get(hub[one.pulled]));
      });
    }
  }
  found.final = Y.encodeStateAsUpdate(replicas[1].replica);
  found.logs = byDevice(day).map((edits) => Y.mergeUpdates(edits.map((edit) => of_edit.get(edit))));
  return found;
}

export function makeFixtures(folder, { seed = 7, scale = 1, with_yjs = true } = {}) {
  fs.mkdirSync(folder, { recursive: true });
  const day = makeDay(seed, { scale });
  const { base, text, hub } = editTexts(day);
  const write = (name, what) => fs.writeFileSync(`${folder}/${name}`, what);
  write("edits.json", JSON.stringify({ base, hub, before: day.before }));
  const lines = linesOf(delta(hub, day));
  write("delta.json", JSON.stringify(lines));
  write("pending.json", JSON.stringify(pending(day).map(text)));
  write("logs.json", JSON.stringify(byDevice(day).map((edits) => edits.map(text))));
  const rows = structuredClone(day.base);
  for (const edit of day.hub) rows[edit.record][edit.field] = edit.value;
  write("rows.json", JSON.stringify(rows));
  const base_rows = JSON.stringify(day.base);
  write("base_rows.json", base_rows);
  const plain = (edit) => [edit.record, edit.field, edit.value];
  write("plain_delta.json", JSON.stringify(delta(day.hub, day).map(plain)));
  write("plain_logs.json", JSON.stringify(byDevice(day).map((edits) => edits.map(plain))));
  const oracle = Object.fromEntries([...day.oracle].map(([name, heads]) => [name, heads.length]));
  write("oracle.json", JSON.stringify(oracle));
  const sizes = {
    "500 edits, as an exchange carries them": pageBytes(lines),
    "the day with all its history": pageBytes(linesOf([...base, ...hub])),
    "bare JSON: 500 edits": gzipped(JSON.stringify(delta(day.hub, day).map(plain))),
    "bare JSON: the day": gzipped(JSON.stringify(rows)),
  };
  if (with_yjs) {
    const yjs = yjsUpdates(day);
    for (const name of ["base", "before", "pending", "delta", "final"]) write(`yjs.${name}.bin`, yjs[name]);
    for (const [place, log] of yjs.logs.entries()) write(`yjs.log${place}.bin`, log);
    sizes["yjs: 500 edits"] = gzipped(yjs.delta);
    sizes["yjs: the day"] = gzipped(yjs.final);
  }
  write("sizes.json", JSON.stringify(sizes));
}

/** Bytes of edits as a reply brings them: one group, JSON, gzipped. */
const pageBytes = (lines) =>
  gzipped(JSON.stringify({ groups: [{ carrier: "gaffer's phone", received_ms: START_MS, lines }] }));
