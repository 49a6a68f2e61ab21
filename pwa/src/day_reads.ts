// Small questions to the day's records: what is this called, who is that, which departments are mine. Reads only.

import { computed, effect, type ReadonlySignal, signal } from "@preact/signals";
import { facts, membership, record, recordsOf, shots, shown } from "./day_signals";
import { unsent } from "./engine/client";
import type { Fields, RecordKey, ShotSummary, UnsentLine } from "./engine/contract";
import { namedIn } from "./engine/gather";
import { departmentLabel, kindNamed } from "./kinds_table";
import { chosen_departments } from "./preferences";
import type { Readiness, Row, Sheet } from "./sheet_types";
import { words } from "./words";

export const kindOf = (key: RecordKey): string => key.slice(0, key.indexOf("/"));
export const idOf = (key: RecordKey): string => key.slice(key.indexOf("/") + 1);

const asText = (value: unknown): string => (typeof value === "string" ? value : "");

/** A text field as shown, followed. */
export const textOf = (key: RecordKey, field: string): string => asText(shown(record(key).value?.[field]));

/** The fields that name a record, in the order in which they do. */
const NAMING = ["number", "title", "name", "why", "ask", "text", "what", "says", "taken_time"];

export function titleOf(key: RecordKey): string {
  const fields: Fields | undefined = record(key).value;
  const said = NAMING.map((name) => asText(shown(fields?.[name]))).filter(Boolean);
  if (said.length) return said.slice(0, 2).join(" ");
  // Written here, and the server has not said yet that it counts.
  const waits = unsent_lines.value.find((line) => line.record === key)?.set;
  const waiting = NAMING.map((name) => asText(waits?.[name])).find(Boolean);
  if (waiting) return waiting;
  const about = namedIn(key).at(-1);
  if (about) return titleOf(about);
  const kind = kindNamed(kindOf(key));
  const ends = kind?.ends.map((end) => {
    const field = kind.fields.find((one) => one.name === end);
    const id = asText(shown(fields?.[end]));
    if (field?.type === "department") return departmentLabel(id);
    return field && id ? titleOf(`${field.kind}/${id}`) : "";
  });
  return ends?.filter(Boolean).join(", ") || kind?.label || words.set.untitled;
}

export const personName = (id: string): string => (id ? textOf(`person/${id}`, "name") : "");

export function departmentsOf(person: string): string[] {
  const value = person ? shown(record(`person/${person}`).value?.departments) : null;
  return Array.isArray(value) ? value.filter((one): one is string => typeof one === "string") : [];
}

/** The departments whose lists and requests this phone shows. */
export const my_departments: ReadonlySignal<string[]> = computed(
  () => chosen_departments.value ?? departmentsOf(membership.value?.person ?? ""),
);

export type ShotNow = { shot: string; sheet: Sheet; readiness: Readiness; summary: ShotSummary };

/** The shots with what the rules computed, in the order of the day. */
export const shots_in_order: ReadonlySignal<ShotNow[]> = computed(() => {
  const found = recordsOf("shot").value.flatMap((key) => {
    const summary = shots.value[idOf(key)];
    const fields = record(key).value;
    const order = shown(fields?.order);
    if (!summary) return [];
    const sheet = summary.sheet as Sheet;
    const place: [number, string] = [typeof order === "number" ? order : 1e6, sheet.shot.number];
    return [{ place, shot: summary.shot, sheet, readiness: summary.readiness as Readiness, summary }];
  });
  return found.sort(
    (a, b) => a.place[0] - b.place[0] || a.place[1].localeCompare(b.place[1], "en", { numeric: true }),
  );
});

/** Shots that were added but that the rules have not computed yet. */
export const shots_waiting: ReadonlySignal<RecordKey[]> = computed(() =>
  recordsOf("shot").value.filter((key) => !shots.value[idOf(key)]),
);

export const is_rolling: ReadonlySignal<boolean> = computed(() =>
  shots_in_order.value.some(({ sheet }) => sheet.shot.phase === "rolling"),
);

/** Every row of a sheet that can be ticked. */
export const rowsOf = (sheet: Sheet): Row[] => [
  ...sheet.rows.tasks,
  ...[...sheet.rows.rigs, ...sheet.rows.glasses, ...sheet.rows.dressing].flatMap((thing) => thing.rows),
  ...sheet.rows.marks,
];

/** The edits the server has not confirmed, oldest first. */
export const unsent_lines = signal<UnsentLine[]>([]);
const unsent_ids = computed(() => new Set(unsent_lines.value.map(({ id }) => id)));
export const isUnsent = (ids: string[] | undefined): boolean => !!ids?.some((id) => unsent_ids.value.has(id));

const unsent_mark = computed(() => `${membership.value?.day} ${facts.value?.unsent} ${facts.value?.acts}`);
effect(() => {
  if (!unsent_mark.value || !membership.value) return;
  unsent().then(
    (lines) => {
      unsent_lines.value = lines;
    },
    (error: unknown) => console.warn("The list of unsent edits was not read", error),
  );
});

/** All present records of the kinds named, with their fields: what a call into the rules takes. */
export function gather(kinds: string[]): { [key: RecordKey]: Fields } {
  const gathered: { [key: RecordKey]: Fields } = {};
  for (const kind of kinds) {
    for (const key of recordsOf(kind).value) {
      const fields = record(key).value;
      if (fields) gathered[key] = fields;
    }
  }
  return gathered;
}
