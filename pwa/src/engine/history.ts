// A record's past, and what is unsent, read from the edits that this phone holds.
import type { HistoryLine, RecordKey, UnsentLine, Value } from "./contract";
import type { DayState } from "./day_state";
import type { Change, Parts } from "./edit_text";
import { recordOf } from "./held_edits";

export function historyOf(state: DayState, record: RecordKey): HistoryLine[] {
  const lines = state.held.idsOf(record).map((id) => lineOf(state, record, id));
  return lines.sort((a, b) => a.at_ms - b.at_ms || (a.id < b.id ? -1 : 1));
}

export function lineOf(state: DayState, record: RecordKey, id: string): HistoryLine {
  const parts: Parts = JSON.parse(state.held.text(id));
  const [, , , , , , rules, at_ms, by, for_whom, how, , , changes] = parts;
  const arrival = state.held.arrival(id);
  const is_live = (field: string): boolean =>
    !!state.cells.cell(record, field)?.[1].some(([live]) => live === id);
  return {
    id,
    at_ms,
    by,
    for_whom,
    how,
    rules,
    set: setOf(changes),
    seen: Object.fromEntries(changes.map(([field, , seen]) => [field, seen])),
    live: changes.map(([field]) => field).filter(is_live),
    sent: !state.unsent.has(id),
    received_ms: arrival?.received_ms ?? null,
    carrier: arrival?.carrier ?? null,
    verdicts: verdictsOn(state, id),
  };
}

const setOf = (changes: Change[]): { [field: string]: Value } =>
  Object.fromEntries(changes.map(([field, value]) => [field, value]));

function verdictsOn(state: DayState, id: string): [string, string, string][] {
  const live = state.cells.cell(`verdict/${id}`, "says")?.[1] ?? [];
  return live
    .map(([, value]) => value)
    .filter((value): value is [string, string, string] => Array.isArray(value));
}

export function unsentLines(state: DayState): UnsentLine[] {
  const lines: UnsentLine[] = [];
  for (const [id, at_ms] of state.unsent) {
    const text = state.held.text(id);
    if (!text) continue;
    const parts: Parts = JSON.parse(text);
    lines.push({ id, record: recordOf(text), at_ms, set: setOf(parts[13]) });
  }
  return lines.sort((a, b) => a.at_ms - b.at_ms);
}
