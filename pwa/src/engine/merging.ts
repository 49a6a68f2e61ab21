// Edits into cells, by asking the rules. Carries ids as numbers, so that words need not cross into Python;
// what is live, gone, absent, shown, reserved or folded is the rules' answer, never decided here.
import type { Draft, Records } from "./cells";
import type { Cell, CellMark, LiveEdit, Presence, RecordKey, Value } from "./contract";
import type { Change, ReadEdit } from "./edit_text";
import { type HeldEdits, recordOf } from "./held_edits";
import { EDITS_PER_CALL, type Rules } from "./rules";

type KindRow = {
  name: string;
  set: string;
  part_of: string;
  reserved: string[];
  fields: { name: string; type: string; kind: string; reserved: string[] }[];
};

type FieldRow = KindRow["fields"][number];

/** What the table of kinds says, by kind. */
export class Kinds {
  readonly rules: number;
  /** kind -> [kind of its parts, field of the part that names it] */
  readonly parts_of = new Map<string, [string, string][]>();
  private readonly sets = new Map<string, string>();
  private readonly fields = new Map<string, Map<string, FieldRow>>();
  private readonly wholes = new Map<string, { kind: string; field: string }>();
  /** Kinds that are reserved as a whole, and "kind/field" of reserved fields. */
  private readonly reserved = new Set<string>();

  constructor(rules: Rules) {
    const table = rules.ask<{ rules: number; kinds: KindRow[] }>({ do: "kinds" });
    this.rules = table.rules;
    for (const { name: kind, set, part_of, reserved, fields } of table.kinds) {
      this.sets.set(kind, set);
      this.fields.set(kind, new Map(fields.map((field) => [field.name, field])));
      if (reserved.length) this.reserved.add(kind);
      for (const field of fields) if (field.reserved.length) this.reserved.add(`${kind}/${field.name}`);
      const whole = fields.find((field) => field.name === part_of)?.kind;
      if (!whole) continue;
      this.wholes.set(kind, { kind: whole, field: part_of });
      this.parts_of.set(whole, [...(this.parts_of.get(whole) ?? []), [kind, part_of]]);
    }
  }

  setOf(kind: string): string {
    return this.sets.get(kind) ?? "floor";
  }

  /** The type of a field and, for a reference, the kind it points to. */
  field(kind: string, name: string): FieldRow | undefined {
    return this.fields.get(kind)?.get(name);
  }

  /** What a record is a part of: the kind, and the field that names it. */
  wholeOf(kind: string): { kind: string; field: string } | undefined {
    return this.wholes.get(kind);
  }

  /** Whether the rules must be asked if an act is reserved; for most kinds the table says at once that none is. */
  mayBeReserved(kind: string, changes: Change[]): boolean {
    return this.reserved.has(kind) || changes.some(([field]) => this.reserved.has(`${kind}/${field}`));
  }
}

/** Merge edits that were not held before into a draft. */
export function mergeEdits(
  rules: Rules,
  kinds: Kinds,
  day: string,
  draft: Draft,
  held: HeldEdits,
  edits: ReadEdit[],
): void {
  const to_fold = recordsToFold(rules, kinds, draft, held, edits);
  const plain = to_fold.size ? edits.filter((edit) => !to_fold.has(edit.record)) : edits;
  // Whole logs come in any order: who is shown matters only once all of them are joined.
  const touched = new Map<string, [record: RecordKey, field: string]>();
  for (let start = 0; start < plain.length; start += EDITS_PER_CALL) {
    joinOnIds(rules, draft, plain.slice(start, start + EDITS_PER_CALL), touched);
  }
  showSeveral(rules, draft, touched);
  for (const record of to_fold) foldRecord(rules, day, draft, held, edits, record);
}

/** Records that must be computed from all their edits: one does not count, or waits for the server to say so. */
function recordsToFold(
  rules: Rules,
  kinds: Kinds,
  draft: Draft,
  held: HeldEdits,
  edits: ReadEdit[],
): Set<RecordKey> {
  const to_fold = new Set<RecordKey>();
  const arriving = new Map(edits.map((edit) => [edit.id, edit.record]));
  const maybe_reserved: ReadEdit[] = [];
  for (const { id, parts, record } of edits) {
    if (parts[11] === "verdict") {
      const judged = arriving.get(parts[12]) ?? (held.has(parts[12]) ? recordOf(held.text(parts[12])) : null);
      if (judged) to_fold.add(judged);
    }
    if (draft.cell(`verdict/${id}`, "says")) to_fold.add(record);
    if (parts[13].some(([field]) => draft.cell(record, field)?.[4].length)) to_fold.add(record);
    if (kinds.mayBeReserved(parts[11], parts[13]))
      maybe_reserved.push({ id, parts, record, text: "", set: "" });
  }
  if (maybe_reserved.length) {
    const acts = maybe_reserved.map(({ parts }) => [parts[11], parts[13]]);
    const { reserved } = rules.ask<{ reserved: boolean[] }>({ do: "reserved", acts });
    for (const [place, edit] of maybe_reserved.entries()) if (reserved[place]) to_fold.add(edit.record);
  }
  return to_fold;
}

function joinOnIds(
  rules: Rules,
  draft: Draft,
  edits: ReadEdit[],
  several: Map<string, [record: RecordKey, field: string]>,
): void {
  const numbers = new Map<string, number>();
  const ids: string[] = [];
  const number = (id: string): number => {
    const known = numbers.get(id);
    if (known !== undefined) return known;
    numbers.set(id, ids.length);
    ids.push(id);
    return ids.length - 1;
  };
  const places = new Map<string, number>();
  const touched: Touched[] = [];
  const asked_edits: [place: number, own: number, seen: number[]][] = [];
  for (const { id, parts, record } of edits) {
    for (const [field, value, seen] of parts[13]) {
      const name = `${record}/${field}`;
      let place = places.get(name);
      if (place === undefined) {
        place = touched.length;
        places.set(name, place);
        touched.push({
          record,
          field,
          name,
          cell: draft.cell(record, field) ?? EMPTY,
          arrived: [],
          named: [id],
        });
      }
      const one = touched[place] as Touched;
      one.arrived.push([id, value, parts[7], parts[8], parts[9], parts[10], parts[6]]);
      one.named.push(id, ...seen);
      asked_edits.push([place, number(id), seen.map(number)]);
    }
  }
  const asked_cells = touched.map(({ cell, named }) => {
    const gone = cell[2].length ? cell[2].filter((id) => named.includes(id)) : cell[2];
    return [cell[1].map(([id]) => number(id)), gone.map(number), cell[3].map(number)];
  });
  const { cells } = rules.ask<{ cells: [number[], number[], number[]][] }>({
    do: "join_ids",
    cells: asked_cells,
    edits: asked_edits,
  });
  const idsOf = (some: number[]): string[] => some.map((one) => ids[one] as string);
  for (const [place, [live_numbers, gone, absent]] of cells.entries()) {
    const { record, field, name, cell, arrived } = touched[place] as Touched;
    const entryOf = (id: string): LiveEdit =>
      (arrived.find((entry) => entry[0] === id) ?? cell[1].find((entry) => entry[0] === id)) as LiveEdit;
    const all_gone = cell[2].length ? [...new Set([...cell[2], ...idsOf(gone)])] : idsOf(gone);
    draft.set(record, field, [
      0,
      idsOf(live_numbers).map(entryOf),
      all_gone.sort(),
      idsOf(absent).sort(),
      cell[4],
    ]);
    if (live_numbers.length > 1) several.set(name, [record, field]);
  }
}

/** A field that edits set: its cell, their entries, and the ids that they name. Of what is gone only those matter. */
type Touched = {
  record: RecordKey;
  field: string;
  name: string;
  cell: Cell;
  arrived: LiveEdit[];
  named: string[];
};
const EMPTY: Cell = [0, [], [], [], []];

/** Where a field has several live edits, the rules say which is shown and whether it is marked. */
function showSeveral(
  rules: Rules,
  draft: Draft,
  touched: Map<string, [record: RecordKey, field: string]>,
): void {
  const several: [name: string, live: [id: string, value: Value, at_ms: number][]][] = [];
  for (const [name, [record, field]] of touched) {
    const live = draft.cell(record, field)?.[1] ?? [];
    if (live.length > 1) several.push([name, live.map(([id, value, at_ms]) => [id, value, at_ms])]);
  }
  for (let start = 0; start < several.length; start += EDITS_PER_CALL) {
    const some = Object.fromEntries(several.slice(start, start + EDITS_PER_CALL));
    const { cells } = rules.ask<{ cells: { [name: string]: [CellMark, ids: string[]] } }>({
      do: "shown",
      cells: some,
    });
    for (const name in cells) {
      const [record, field] = splitName(name);
      const [, live, gone, absent, off] = draft.cell(record, field) as Cell;
      const [mark, ids] = cells[name] as [CellMark, string[]];
      const in_order = ids.map((id) => live.find((entry) => entry[0] === id) as LiveEdit);
      draft.set(record, field, [mark, in_order, gone, absent, off]);
    }
  }
}

function splitName(name: string): [record: RecordKey, field: string] {
  const end = name.lastIndexOf("/");
  return [name.slice(0, end), name.slice(end + 1)];
}

/** Compute one record from all its edits, those that arrive included and those that leave the day left out. */
export function foldRecord(
  rules: Rules,
  day: string,
  draft: Draft,
  held: HeldEdits,
  arriving: ReadEdit[],
  record: RecordKey,
  leaving: Set<string> = new Set(),
): void {
  const texts = new Map<string, string>();
  for (const id of held.idsOf(record)) if (!leaving.has(id)) texts.set(id, held.text(id));
  for (const edit of arriving) if (edit.record === record) texts.set(edit.id, edit.text);
  const verdicts: string[] = [];
  for (const id of texts.keys())
    for (const verdict of held.idsOf(`verdict/${id}`)) verdicts.push(held.text(verdict));
  for (const edit of arriving)
    if (edit.parts[11] === "verdict" && texts.has(edit.parts[12])) verdicts.push(edit.text);
  const { cells } = rules.ask<{ cells: { [name: string]: Cell } }>({
    do: "fold",
    day,
    items: [...texts.values()],
    verdicts,
  });
  for (const field in draft.fields(record)) draft.set(record, field, [0, [], [], [], []]);
  for (const name in cells) draft.set(...splitName(name), cells[name] as Cell);
}

/** Whether the changed records, and those they are parts of, are there, removed, or back. Only what may have changed. */
export function presenceOf(
  rules: Rules,
  kinds: Kinds,
  draft: Draft,
  partsOf: (record: RecordKey) => RecordKey[],
): { [record: RecordKey]: Presence } {
  const asked = new Set<RecordKey>();
  for (const record in draft.changed) {
    if (draft.cell(record, "present")) asked.add(record);
    const whole = kinds.wholeOf(record.slice(0, record.indexOf("/")));
    const id = whole && draft.cell(record, whole.field)?.[1][0]?.[1];
    if (whole && typeof id === "string" && draft.cell(`${whole.kind}/${id}`, "present"))
      asked.add(`${whole.kind}/${id}`);
  }
  const found: { [record: RecordKey]: Presence } = {};
  for (const record of asked) {
    const records: Records = {};
    for (const one of [record, ...partsOf(record)]) records[one] = draft.fields(one);
    found[record] = rules.ask<{ presence: Presence }>({ do: "presence", record, records }).presence;
  }
  return found;
}
