// What is typed and not saved yet. Kept while the app is open, so that leaving a form with a refused value loses no words.
import { signal } from "@preact/signals";
import type { RecordKey } from "../../engine/contract";

export type Draft = { text: string; painted: string[] };
export const drafts = new Map<string, Draft>();

export const cellKey = (record: RecordKey, field: string): string => `${record}/${field}`;

/** Written by the app itself, never by hand. */
export const NOT_TYPED = ["taken_for"];

/** The kind that was added last: its list stands open on Set. */
export const last_kind = signal("");
