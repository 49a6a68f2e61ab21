// Every edit that this phone holds, as its text: what history, folding and differences with a server need.
import type { RecordKey } from "./contract";
import type { Parts } from "./edit_text";
import type { Row } from "./store";

export type Arrival = { carrier: string; received_ms: number };
type Held = { text: string; arrival: Arrival | null };

export class HeldEdits {
  private readonly held = new Map<string, Held>();
  private readonly by_record = new Map<RecordKey, string[]>();
  /** Ids that are not in `by_record` yet: reading a text for its record waits until someone asks by record. */
  private to_index: string[] = [];

  get size(): number {
    return this.held.size;
  }
  has(id: string): boolean {
    return this.held.has(id);
  }
  text(id: string): string {
    return this.held.get(id)?.text ?? "";
  }
  arrival(id: string): Arrival | null {
    return this.held.get(id)?.arrival ?? null;
  }
  /** The set of a held edit, "" when it is not held. */
  setOf(id: string): string {
    return setOf(this.text(id));
  }
  ids(): IterableIterator<string> {
    return this.held.keys();
  }

  /** Take lines of a stored row: ids parted by spaces, texts by line breaks, groups in the same order. */
  takeLines({ ids, texts, groups }: Pick<Row, "ids" | "texts" | "groups">): void {
    if (!ids) return;
    const lines = texts.split("\n");
    const arrivals = groups.flatMap(([count, carrier, received_ms]) => {
      const arrival = received_ms ? { carrier, received_ms } : null;
      return Array.from({ length: count }, () => arrival);
    });
    for (const [place, id] of ids.split(" ").entries())
      this.add(id, lines[place] ?? "", arrivals[place] ?? null);
  }

  add(id: string, text: string, arrival: Arrival | null): void {
    const known = this.held.get(id);
    if (known) {
      if (arrival) known.arrival = arrival;
      return;
    }
    if (!text) return; // the row that holds the text is yet to be taken
    this.held.set(id, { text, arrival });
    this.to_index.push(id);
  }

  drop(id: string): void {
    const text = this.text(id);
    if (!text) return;
    const others = this.idsOf(recordOf(text)).filter((one) => one !== id);
    this.by_record.set(recordOf(text), others);
    this.held.delete(id);
  }

  /** Ids of the edits of one record, in the order in which they came here. */
  idsOf(record: RecordKey): string[] {
    for (const id of this.to_index) {
      const of_record = recordOf(this.text(id));
      const ids = this.by_record.get(of_record);
      if (ids) ids.push(id);
      else this.by_record.set(of_record, [id]);
    }
    this.to_index = [];
    return this.by_record.get(record) ?? [];
  }

  /** Ids of a set's edits made by some incarnations, by incarnation. */
  idsMadeBy(incarnations: string[], set: string): { [incarnation: string]: string[] } {
    const wanted = new Set(incarnations);
    const found: { [incarnation: string]: string[] } = {};
    for (const [id, { text }] of this.held) {
      const incarnation = id.slice(0, id.indexOf("."));
      if (!wanted.has(incarnation) || setOf(text) !== set) continue;
      found[incarnation] ??= [];
      found[incarnation]?.push(id);
    }
    return found;
  }
}

/** "kind/id" of the record that an edit is on. */
export function recordOf(text: string): RecordKey {
  const parts: Parts = JSON.parse(text);
  return `${parts[11]}/${parts[12]}`;
}

/** The set stands third in every text, and is one of a few plain words. */
export const setOf = (text: string): string => text.split('"', 4)[3] ?? "";
