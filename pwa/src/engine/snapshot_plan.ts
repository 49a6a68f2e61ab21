// Where each record lies in the stored snapshot, and what compacting has to write. Knows no database.
import type { Records } from "./cells";
import type { RecordKey } from "./contract";
import type { Row } from "./store";

const CHUNK_BYTES = 64 << 10;

/** Which record is in which chunk of the snapshot, and which chunks hold a change since it was written. */
export class SnapshotPlan {
  row_count = 0;
  row_bytes = 0;
  private readonly chunk_of = new Map<RecordKey, number>();
  private readonly chunk_bytes = new Map<number, number>();
  private readonly touched = new Set<RecordKey>();

  clear(): void {
    for (const one of [this.chunk_of, this.chunk_bytes, this.touched]) one.clear();
    this.row_count = 0;
    this.row_bytes = 0;
  }

  take(chunks: Map<number, string>, takePart: (part: Records) => void): void {
    for (const [key, text] of chunks) {
      const part: Records = JSON.parse(text);
      for (const record in part) this.chunk_of.set(record, key);
      this.chunk_bytes.set(key, text.length);
      takePart(part);
    }
  }

  count(row: Row, touched: string[]): void {
    this.row_count++;
    this.row_bytes += row.cells.length + row.texts.length;
    for (const record of touched) this.touched.add(record);
  }

  /** The texts of the chunks that changed; new records fill the last chunk, then new ones. */
  chunksToWrite(records: ReadonlyMap<RecordKey, Records[string]>): Map<number, string> {
    let last = Math.max(0, ...this.chunk_bytes.keys());
    let room = CHUNK_BYTES - (this.chunk_bytes.get(last) ?? CHUNK_BYTES);
    for (const record of [...this.touched].filter((one) => !this.chunk_of.has(one)).sort()) {
      if (room <= 0) {
        last++;
        room = CHUNK_BYTES;
      }
      this.chunk_of.set(record, last);
      room -= JSON.stringify(records.get(record)).length;
    }
    const changed = new Set([...this.touched].map((record) => this.chunk_of.get(record) as number));
    const parts = new Map<number, Records>([...changed].map((key) => [key, {}]));
    for (const [record, key] of this.chunk_of) {
      const part = parts.get(key);
      if (part) part[record] = records.get(record) ?? {};
    }
    return new Map([...parts].map(([key, part]) => [key, JSON.stringify(part)]));
  }

  written(chunks: Map<number, string>): void {
    for (const [key, text] of chunks) this.chunk_bytes.set(key, text.length);
    this.touched.clear();
    this.row_count = 0;
    this.row_bytes = 0;
  }
}
