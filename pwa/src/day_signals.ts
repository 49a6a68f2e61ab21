// The day as signals: what screens read. Filled by engine/client.ts alone; holds cells as the rules made them.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type {
  Cell,
  CellMark,
  Facts,
  Fields,
  Membership,
  News,
  Opened,
  Presence,
  RecordKey,
  ShotSummary,
  Value,
} from "./engine/contract";

const records = new Map<RecordKey, Fields>();
const presence = new Map<RecordKey, Presence>();
const record_signals = new Map<RecordKey, Signal<Fields | undefined>>();
const kind_signals = new Map<string, Signal<RecordKey[]>>();
const shot_summaries = signal<{ [shot: string]: ShotSummary }>({});
const facts_signal = signal<Facts | null>(null);
const membership_signal = signal<Membership | null>(null);

/** What the last exchange or file brought: record, author, for whom, of each field it changed. */
export const foreign = signal<[record: RecordKey, by: string, for_whom: string][]>([]);

/** The three facts; null until the engine has opened. */
export const facts: ReadonlySignal<Facts | null> = facts_signal;
/** Who this phone is on which day; null when no day is open. */
export const membership: ReadonlySignal<Membership | null> = membership_signal;
/** Every shot's stored summary, by shot id: the board is a fold over these. */
export const shots: ReadonlySignal<{ [shot: string]: ShotSummary }> = shot_summaries;

/** One shot's summary. */
export const shotSummary = (shot: string): ReadonlySignal<ShotSummary | undefined> =>
  computed(() => shot_summaries.value[shot]);

/** One record's fields, following every change; undefined while nobody has set any. */
export function record(key: RecordKey): ReadonlySignal<Fields | undefined> {
  let found = record_signals.get(key);
  if (!found) {
    found = signal(records.get(key));
    record_signals.set(key, found);
  }
  return found;
}

/** The keys of all records of a kind that are not removed, sorted. */
export function recordsOf(kind: string): ReadonlySignal<RecordKey[]> {
  let found = kind_signals.get(kind);
  if (!found) {
    found = signal(keysOf(kind));
    kind_signals.set(kind, found);
  }
  return found;
}

/** One record's fields now, without following it. */
export const recordNow = (key: RecordKey): Fields | undefined => records.get(key);
/** Whether a record is there, removed, or came back by an edit that the removal had not seen. */
export const presenceNow = (key: RecordKey): Presence => presence.get(key) ?? "present";

/** The value shown for a field; undefined while nobody has set it. */
export const shown = (cell: Cell | undefined): Value | undefined => cell?.[1][0]?.[1];
/** Whether a field has one answer or several. */
export const cellMark = (cell: Cell | undefined): CellMark => cell?.[0] ?? 0;
/** The ids a screen shows for a field: what an act passes as `painted`. */
export const paintedIds = (cell: Cell | undefined): string[] => (cell?.[1] ?? []).map(([id]) => id);

function keysOf(kind: string): RecordKey[] {
  const start = `${kind}/`;
  return [...records.keys()].filter((key) => key.startsWith(start) && presence.get(key) !== "removed").sort();
}

/** Take the stored day; called by engine/client.ts. */
export function applyOpened(opened: Opened): void {
  facts_signal.value = opened.facts;
  records.clear();
  presence.clear();
  if (opened.state === "day") {
    for (const chunk of opened.chunks) {
      const part: { [record: RecordKey]: Fields } = JSON.parse(chunk);
      for (const key in part) records.set(key, Object.assign(records.get(key) ?? {}, part[key]));
    }
    for (const key in opened.presence) presence.set(key, opened.presence[key] as Presence);
  }
  membership_signal.value = opened.state === "day" ? opened.membership : null;
  shot_summaries.value = opened.state === "day" ? opened.shots : {};
  for (const [key, one] of record_signals) one.value = records.get(key);
  for (const [kind, one] of kind_signals) one.value = keysOf(kind);
}

/** Take what changed; called by engine/client.ts. */
export function applyNews(news: News): void {
  if (news.news === "facts") facts_signal.value = news.facts;
  if (news.news === "shots") shot_summaries.value = { ...shot_summaries.value, ...news.shots };
  if (news.news === "day") applyOpened(news.opened);
  if (news.news !== "records") return;
  const kinds_to_list = new Set<string>();
  for (const key in news.presence) {
    presence.set(key, news.presence[key] as Presence);
    kinds_to_list.add(key.slice(0, key.indexOf("/")));
  }
  const changed: { [record: RecordKey]: Fields } = JSON.parse(news.cells);
  for (const key in changed) {
    if (!records.has(key)) kinds_to_list.add(key.slice(0, key.indexOf("/")));
    const fields = { ...records.get(key), ...changed[key] };
    records.set(key, fields);
    const one = record_signals.get(key);
    if (one) one.value = fields;
  }
  if (news.from === "server") foreign.value = newestIn(changed);
  for (const kind of kinds_to_list) {
    const one = kind_signals.get(kind);
    if (one) one.value = keysOf(kind);
  }
}

const newestIn = (changed: { [record: RecordKey]: Fields }): [RecordKey, string, string][] =>
  Object.entries(changed).flatMap(([key, fields]) =>
    Object.values(fields).flatMap(([, live]) =>
      live.slice(0, 1).map(([, , , by, for_whom]): [RecordKey, string, string] => [key, by, for_whom]),
    ),
  );
