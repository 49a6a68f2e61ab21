// What is typed and not saved yet. Kept while the app is open, so that leaving a form with a refused value loses no words.
import type { RecordKey } from "../../engine/contract";

export type Draft = { text: string; painted: string[] };
export const drafts = new Map<string, Draft>();

export const cellKey = (record: RecordKey, field: string): string => `${record}/${field}`;
