// The day as this tab has it in memory: what the snapshot and the rows came to. Filled by rows alone, so that
// a row written here, read at the start, or written by another tab is taken in one and the same way.
import { DayCells, type Records } from "./cells";
import type { Presence, RecordKey, Refused } from "./contract";
import { HeldEdits, setOf } from "./held_edits";
import type { Head, HistoryRow, KeyedRow, Row } from "./store";

export class DayState {
  readonly cells = new DayCells();
  readonly held = new HeldEdits();
  /** Ids that no server has confirmed, and when they were made. */
  readonly unsent = new Map<string, number>();
  readonly presence = new Map<RecordKey, Presence>();
  refused: Refused[] = [];
  acts = 0;
  edits = 0;
  /** Key of the last row taken. */
  taken = 0;
  /** Ids in the rows taken since the snapshot: those after the exchange's own row are not in its marks yet. */
  readonly recent: { key: number; id: string; set: string; is_drop: boolean }[] = [];

  takeHead(head: Head): void {
    for (const [id, at_ms] of head.unsent) this.unsent.set(id, at_ms);
    for (const record in head.presence) this.presence.set(record, head.presence[record] as Presence);
    this.refused = [...head.refused];
    this.acts = head.acts;
    this.edits = head.edits;
    this.taken = head.upto;
  }

  head(): Head {
    return {
      upto: this.taken,
      unsent: [...this.unsent],
      refused: this.refused,
      presence: Object.fromEntries([...this.presence].filter(([, presence]) => presence !== "present")),
      acts: this.acts,
      edits: this.edits,
    };
  }

  /** What a row says besides its cells and texts: enough for the three facts. */
  takeFacts({ key, row }: KeyedRow): void {
    this.taken = Math.max(this.taken, key);
    const ids = row.ids ? row.ids.split(" ") : [];
    const texts = row.texts.split("\n");
    for (const [place, id] of ids.entries()) {
      if (!texts[place]) continue;
      this.edits++;
      this.recent.push({ key, id, set: setOf(texts[place] ?? ""), is_drop: false });
      if (row.is_own) this.unsent.set(id, row.at_ms);
    }
    if (row.is_own) this.acts += ids.length;
    for (const id of row.confirmed) this.unsent.delete(id);
    for (const id of row.wanted) this.unsent.set(id, row.at_ms);
    for (const [id, set] of row.dropped) {
      this.unsent.delete(id);
      this.edits--;
      this.recent.push({ key, id, set, is_drop: true });
    }
    this.refused.push(...row.refused);
    for (const record in row.presence) this.presence.set(record, row.presence[record] as Presence);
  }

  /** A row's texts and cells; `changed` spares reading the cells' text again when it was written here. */
  takeContents(row: Row, changed?: Records): void {
    this.takeHistory([row]);
    this.cells.take(changed ?? JSON.parse(row.cells));
  }

  takeHistory(rows: HistoryRow[]): void {
    for (const row of rows) {
      this.held.takeLines(row);
      for (const [id] of row.dropped) this.held.drop(id);
    }
  }
}
