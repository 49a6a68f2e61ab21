// Follows the steps of {"do": "reads"} over the day in memory: which records a sheet is to be handed. Generic;
// what a step means, and which steps there are, is day/reads.py's (R1, R2).
import type { DayCells, Records } from "./cells";
import type { Cell, Fields, RecordKey, Value } from "./contract";
import type { Kinds } from "./merging";

export type Step = [kind: string, field: string, of_kind: string];

const kindOf = (key: RecordKey): string => key.slice(0, key.indexOf("/"));

export class Gatherer {
  constructor(
    private readonly cellsNow: () => DayCells,
    private readonly kinds: Kinds,
    private readonly steps: Step[],
  ) {}

  private get cells(): DayCells {
    return this.cellsNow();
  }

  /** The keys that the steps reach from `start`. */
  follow(start: RecordKey[]): Set<RecordKey> {
    const { records } = this.cells;
    const found = new Set(start.filter((key) => records.has(key)));
    for (const [kind, field, of_kind] of this.steps) {
      if (kind === "person" && field === "by") this.addAuthors(found);
      else if (!field) for (const key of this.cells.ofKind(kind)) found.add(key);
      else if (kind) {
        for (const key of this.cells.ofKind(kind))
          if (this.points(key, field, of_kind, found)) found.add(key);
      } else {
        for (const key of [...found]) {
          if (kindOf(key) !== of_kind) continue;
          for (const one of this.pointedAt(key, field)) if (records.has(one)) found.add(one);
        }
      }
    }
    return found;
  }

  /** Whether a record that was not gathered is one that the steps would now reach from what was. */
  wouldReach(key: RecordKey, gathered: Set<RecordKey>): boolean {
    return this.steps.some(([kind, field, of_kind]) => {
      if (kind !== kindOf(key) || field === "by") return false;
      return !field || this.points(key, field, of_kind, gathered);
    });
  }

  recordsOf(keys: Iterable<RecordKey>): Records {
    return Object.fromEntries([...keys].sort().map((key) => [key, answersOf(this.cells.records.get(key))]));
  }

  private points(key: RecordKey, field: string, of_kind: string, found: Set<RecordKey>): boolean {
    return this.pointedAt(key, field).some(
      (one) => (field === "~" || kindOf(one) === of_kind) && found.has(one),
    );
  }

  /** The records that a field's shown value points to, by the field's type. */
  private pointedAt(key: RecordKey, field: string): RecordKey[] {
    if (field === "~") return namedIn(key).slice(0, 1);
    const value = this.cells.cell(key, field)?.[1][0]?.[1];
    const known = this.kinds.field(kindOf(key), field);
    if (value === undefined || value === null || !known) return [];
    if (known.type === "reference") return typeof value === "string" ? [`${known.kind}/${value}`] : [];
    if (known.type === "any_reference") return typeof value === "string" ? [value] : [];
    if (known.type === "cells") return recordsOfCells(value);
    if (known.type === "tick")
      return Array.isArray(value) && Array.isArray(value[1]) ? recordsOfCells(value[1].map(first)) : [];
    return [];
  }

  private addAuthors(found: Set<RecordKey>): void {
    const people = new Set<RecordKey>();
    for (const key of found) {
      for (const cell of Object.values(this.cells.records.get(key) ?? {})) {
        for (const [, , , by, for_whom] of cell[1]) people.add(`person/${by}`).add(`person/${for_whom}`);
      }
    }
    for (const person of people) if (this.cells.records.has(person)) found.add(person);
  }
}

/** What a sheet reads of cells: the answers, and what of them does not count. What is gone would only be read past. */
function answersOf(fields: Fields = {}): Fields {
  const answers: { [field: string]: unknown } = {};
  for (const field in fields) {
    const cell = fields[field] as Cell;
    answers[field] = cell[4].length ? cell : cell.slice(0, 2);
  }
  return answers as Fields;
}

const first = (value: Value): Value => (Array.isArray(value) ? (value[0] ?? null) : null);

/** The records that the id of a derived task names, as day/task_id.py writes it. */
export function namedIn(key: RecordKey): RecordKey[] {
  if (!/^task\/[^~]+(~[^:~]+:[^~]+)+~\d+$/.test(key)) return [];
  return key
    .split("~")
    .slice(1, -1)
    .map((part) => {
      const colon = part.indexOf(":");
      const written = part.slice(colon + 1);
      return `${part.slice(0, colon)}/${written.replace(/:([:-])/g, (_, sign) => (sign === "-" ? "~" : ":"))}`;
    });
}

/** "kind/id/field" to "kind/id". */
function recordsOfCells(value: Value): RecordKey[] {
  if (!Array.isArray(value)) return [];
  return value
    .filter((one): one is string => typeof one === "string")
    .map((one) => one.slice(0, one.lastIndexOf("/")));
}
