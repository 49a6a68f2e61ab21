// The day in memory: cells as the rules made them, and a draft over it that counts only once it is stored.
import type { Cell, Fields, RecordKey } from "./contract";

export type Records = { [record: RecordKey]: Fields };

/** A field named like something every object has (constructor, ...) is no cell until someone set it. */
function own(fields: Fields | undefined, field: string): Cell | undefined {
  const cell: unknown = fields?.[field];
  return Array.isArray(cell) ? (cell as Cell) : undefined;
}

const NONE: ReadonlySet<RecordKey> = new Set();

export class DayCells {
  readonly records = new Map<RecordKey, Fields>();
  private readonly by_kind = new Map<string, Set<RecordKey>>();
  /** "kind/id/field" of cells in which someone saw an edit that has not arrived. */
  readonly with_absent = new Set<string>();

  cell(record: RecordKey, field: string): Cell | undefined {
    return own(this.records.get(record), field);
  }

  /** The keys of all records of a kind, removed ones too. */
  ofKind(kind: string): ReadonlySet<RecordKey> {
    return this.by_kind.get(kind) ?? NONE;
  }

  private add(record: RecordKey, fields: Fields): void {
    this.records.set(record, fields);
    const kind = record.slice(0, record.indexOf("/"));
    const keys = this.by_kind.get(kind);
    if (keys) keys.add(record);
    else this.by_kind.set(kind, new Set([record]));
  }

  /** Lay changed fields over the day, keeping the others. */
  take(part: Records): void {
    for (const record in part) {
      const fresh = part[record] as Fields;
      const fields = this.records.get(record);
      if (fields) Object.assign(fields, fresh);
      else this.add(record, fresh);
      for (const field in fresh) {
        if (fresh[field]?.[3].length) this.with_absent.add(`${record}/${field}`);
        else if (this.with_absent.size) this.with_absent.delete(`${record}/${field}`);
      }
    }
  }

  /** Ids that someone saw and that have not arrived. */
  absent(): string[] {
    const ids = new Set<string>();
    for (const name of this.with_absent) {
      const end = name.lastIndexOf("/");
      for (const id of this.cell(name.slice(0, end), name.slice(end + 1))?.[3] ?? []) ids.add(id);
    }
    return [...ids].sort();
  }
}

/** Changed cells over a day. Thrown away when storing them fails. */
export class Draft {
  readonly changed: Records = {};

  constructor(private readonly day: DayCells) {}

  cell(record: RecordKey, field: string): Cell | undefined {
    return own(this.changed[record], field) ?? this.day.cell(record, field);
  }

  fields(record: RecordKey): Fields {
    return { ...this.day.records.get(record), ...this.changed[record] };
  }

  set(record: RecordKey, field: string, cell: Cell): void {
    let fields = this.changed[record];
    if (!fields) {
      fields = {};
      this.changed[record] = fields;
    }
    fields[field] = cell;
  }
}
