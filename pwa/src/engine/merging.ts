// Edits into cells, by asking the rules. Carries ids as numbers, so that words need not cross into Python;
// what is live, gone, absent, shown, reserved or folded is the rules' answer, never decided here.
import type { Draft, Records } from "./cells";
import type { Cell, CellMark, LiveEdit, Presence, RecordKey } from "./contract";
import type { Change, Parts, ReadEdit } from "./edit_text";
import type { HeldEdits } from "./held_edits";
import { EDITS_PER_CALL, type Rules } from "./rules";

type KindRow = {
  name: string;
  set: string;
  part_of: string;
  reserved: string[];
  fields: { name: string; type: string; kind: string; reserved: string[] }[];
};

/** What the table of kinds says, by kind. */
export class Kinds {
  readonly rules: number;
  private readonly by_name = new Map<string, KindRow>();
  /** kind -> [kind of its parts, field of the part that names it] */
  readonly parts_of = new Map<string, [string, string][]>();

  constructor(rules: Rules) {
    const table = rules.ask<{ rules: number; kinds: KindRow[] }>({ do: "kinds" });
    this.rules = table.rules;
    for (const kind of table.kinds) {
      this.by_name.set(kind.name, kind);
      const whole = kind.fields.find((field) => field.name === kind.part_of)?.kind;
      if (whole) this.parts_of.set(whole, [...(this.parts_of.get(whole) ?? []), [kind.name, kind.part_of]]);
    }
  }

  setOf(kind: string): string {
    return this.by_name.get(kind)?.set ?? "floor";
  }

  /** The type of a field and, for a reference, the kind it points to. */
  field(kind: string, name: string): { type: string; kind: string } | undefined {
    return this.by_name.get(kind)?.fields.find((field) => field.name === name);
  }

  /** What a record is a part of: the kind, and the field that names it. */
  wholeOf(kind: string): { kind: string; field: string } | null {
    const row = this.by_name.get(kind);
    const whole = row?.fields.find((field) => field.name === row.part_of)?.kind;
    return row && whole ? { kind: whole, field: row.part_of } : null;
  }

  /** Whether the rules must be asked if an act is reserved; for most kinds the table says at once that none is. */
  mayBeReserved(kind: string, changes: Change[]): boolean {
    const row = this.by_name.get(kind);
    if (!row) return false;
    return (
      row.reserved.length > 0 ||
      changes.some(([name]) => row.fields.some((field) => field.name === name && field.reserved.length))
    );
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
      const judged =
        arriving.get(parts[12]) ?? (held.has(parts[12]) ? recordOfText(held.text(parts[12])) : null);
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

export const recordOfText = (text: string): RecordKey => {
  const parts: Parts = JSON.parse(text);
  return `${parts[11]}/${parts[12]}`;
};

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
  const asked_cells: number[][][] = [];
  const asked_edits: [place: number, own: number, seen: number[]][] = [];
  for (const { id, parts, record } of edits) {
    for (const [field, value, seen] of parts[13]) {
      const name = `${record}/${field}`;
      let place = places.get(name);
      if (place === undefined) {
        place = touched.length;
        places.set(name, place);
        const cell = draft.cell(record, field) ?? EMPTY;
        touched.push({ record, field, name, cell, arrived: [] });
        asked_cells.push([
          cell[1].map(([live_id]) => number(live_id)),
          cell[2].map(number),
          cell[3].map(number),
        ]);
      }
      const entry: LiveEdit = [id, value, parts[7], parts[8], parts[9], parts[10], parts[6]];
      (touched[place] as Touched).arrived.push(entry);
      asked_edits.push([place, number(id), seen.map(number)]);
    }
  }
  const { cells } = rules.ask<{ cells: [number[], number[], number[]][] }>({
    do: "join_ids",
    cells: asked_cells,
    edits: asked_edits,
  });
  const named = (some: number[]): string[] => some.map((one) => ids[one] as string).sort();
  for (const [place, [live_numbers, gone, absent]] of cells.entries()) {
    const { record, field, name, cell, arrived } = touched[place] as Touched;
    const entryOf = (one: number): LiveEdit => {
      const id = ids[one];
      return (arrived.find((entry) => entry[0] === id) ??
        cell[1].find((entry) => entry[0] === id)) as LiveEdit;
    };
    draft.set(record, field, [0, live_numbers.map(entryOf), named(gone), named(absent), cell[4]]);
    if (live_numbers.length > 1) several.set(name, [record, field]);
  }
}

type Touched = { record: RecordKey; field: string; name: string; cell: Cell; arrived: LiveEdit[] };
const EMPTY: Cell = [0, [], [], [], []];

/** Where a field has several live edits, the rules say which is shown and whether it is marked. */
function showSeveral(
  rules: Rules,
  draft: Draft,
  touched: Map<string, [record: RecordKey, field: string]>,
): void {
  const several: [name: string, live: LiveEdit[]][] = [];
  for (const [name, [record, field]] of touched) {
    const live = draft.cell(record, field)?.[1] ?? [];
    if (live.length > 1) several.push([name, live]);
  }
  for (let start = 0; start < several.length; start += EDITS_PER_CALL) {
    const some = Object.fromEntries(several.slice(start, start + EDITS_PER_CALL));
    const { cells } = rules.ask<{ cells: { [name: string]: [CellMark, LiveEdit[]] } }>({
      do: "shown",
      cells: some,
    });
    for (const name in cells) {
      const [record, field] = splitName(name);
      const [, , gone, absent, off] = draft.cell(record, field) as Cell;
      const [mark, live] = cells[name] as [CellMark, LiveEdit[]];
      draft.set(record, field, [mark, live, gone, absent, off]);
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
