// The store of a browser that keeps nothing. Loses nothing until the tab closes; the engine says so all the while.
import type { Addition, DayStore, HistoryRow, KeyedRow, Stored } from "./store";

export class MemoryStore implements DayStore {
  readonly is_new = true;
  private key = 0;
  private exchange: string | null = null;

  async open(): Promise<void> {}
  close(): void {}
  async read(): Promise<Stored> {
    return { membership: null, head: null, chunks: new Map(), rows: [], exchange: null, shots: [] };
  }
  async history(): Promise<HistoryRow[]> {
    return [];
  }
  async rowsAfter(): Promise<{ rows: KeyedRow[]; exchange: string | null }> {
    return { rows: [], exchange: this.exchange };
  }
  async append(
    _taken: () => number,
    _takeRows: (rows: KeyedRow[]) => void,
    make: () => Addition,
  ): Promise<number> {
    const addition = make();
    this.key += addition.rows.length;
    if (addition.exchange) this.exchange = addition.exchange(this.key);
    return this.key;
  }
  async putMembership(): Promise<void> {}
  async putShots(): Promise<void> {}
  async compact(): Promise<boolean> {
    return false;
  }
  async probe(): Promise<void> {}
}
