// The newest edits of the day as rows in words: gathers lines and what they name, and asks day/feed.py for the rest.
import type { Records } from "./cells";
import type { FeedRow, Offset, RecordKey, Value } from "./contract";
import type { DayState } from "./day_state";
import type { Parts } from "./edit_text";
import { namedIn } from "./gather";
import { lineOf } from "./history";
import type { Kinds } from "./merging";
import type { Rules } from "./rules";

const LINES_PER_CALL = 40;
const STEPS = 3; // a level's source's circuit: as far as names are borrowed

export type FeedAsked = {
  count: number;
  mine: string[];
  units: string;
  utc_offset_min: Offset;
  record?: RecordKey;
};

/** The last `count` rows in the order in which their edits came here, newest first, of one record or of all; `is_all` when nothing is older. */
export function feedOf(
  rules: Rules,
  kinds: Kinds,
  state: DayState,
  { count, record, ...told }: FeedAsked,
): { rows: FeedRow[]; is_all: boolean } {
  const ids = (record ? [...state.held.idsOf(record)] : [...state.held.ids()]).reverse();
  const rows: FeedRow[] = [];
  let place = 0;
  for (; place < ids.length && rows.length < count; place += LINES_PER_CALL) {
    const lines = ids.slice(place, place + LINES_PER_CALL).map((id) => feedLine(state, id));
    const records = around(
      kinds,
      state,
      lines.flatMap(({ record, by, for_whom }) => [record, `person/${by}`, `person/${for_whom}`]),
    );
    rows.push(...rules.ask<{ rows: FeedRow[] }>({ do: "feed", lines, records, ...told }).rows);
  }
  return { rows, is_all: place >= ids.length };
}

function feedLine(state: DayState, id: string) {
  const parts: Parts = JSON.parse(state.held.text(id));
  const record: RecordKey = `${parts[11]}/${parts[12]}`;
  const { set, seen, live, by, for_whom, at_ms } = lineOf(state, record, id);
  const before = (field: string, seen_ids: string[]): Value[] =>
    seen_ids.filter((one) => state.held.has(one)).map((one) => valueIn(state.held.text(one), field));
  const was = Object.fromEntries(Object.entries(seen).map(([field, some]) => [field, before(field, some)]));
  const is_first = state.held.idsOf(record)[0] === id;
  return { id, record, set, was, live, is_first, by, for_whom, at_ms };
}

function valueIn(text: string, field: string): Value {
  const parts: Parts = JSON.parse(text);
  return parts[13].find(([name]) => name === field)?.[1] ?? null;
}

/** Records with all that their references name, a few steps far. */
function around(kinds: Kinds, state: DayState, keys: RecordKey[]): Records {
  const found: Records = {};
  let waiting = keys;
  for (let step = 0; step < STEPS; step++) {
    const next: RecordKey[] = [];
    for (const key of waiting) {
      const fields = state.cells.records.get(key);
      if (found[key] || !fields) {
        if (!fields) next.push(...namedIn(key));
        continue;
      }
      found[key] = fields;
      next.push(...namedIn(key));
      for (const field in fields) {
        const value = fields[field]?.[1][0]?.[1];
        const known = kinds.field(key.slice(0, key.indexOf("/")), field);
        if (typeof value !== "string" || !known) continue;
        if (known.type === "reference") next.push(`${known.kind}/${value}`);
        if (known.type === "any_reference") next.push(value);
      }
    }
    waiting = next;
  }
  return found;
}
