// Pictures on this phone, in a database of their own: a full one never stands in the way of the day's words.
// Full pictures are dropped to keep the budget, oldest first, never one that is pinned or that the server lacks;
// a small picture stays.
import { type DBSchema, deleteDB, type IDBPDatabase, openDB } from "idb";

export type Kept = {
  digest: string;
  /** Bytes of the full picture; counted only while `has_full`. */
  bytes: number;
  has_full: boolean;
  small: Uint8Array | null;
  at_ms: number;
  is_pinned: boolean;
  /** The epoch of the server that has it; "" for none. After a restore the server may lack it. */
  sent: string;
  /** Why the server will not take it, in its words. */
  refused: string;
};

interface Tables extends DBSchema {
  kept: { key: string; value: Kept };
  full: { key: string; value: Uint8Array };
  settings: { key: string; value: number };
}

const USUAL_BUDGET_BYTES = 200e6;
const databaseName = (day: string): string => `tailslate-photographs.${day}`;
export const dropPhotographs = (day: string): Promise<void> => deleteDB(databaseName(day));
export const isFull = (error: unknown): boolean =>
  error instanceof DOMException && error.name === "QuotaExceededError";

export class PhotographsStore {
  private is_closed = false;
  private opening: Promise<IDBPDatabase<Tables>> | null = null;

  constructor(private readonly day: string) {}

  private open(): Promise<IDBPDatabase<Tables>> {
    if (this.is_closed) throw new DOMException("the day was left", "AbortError");
    this.opening ??= openDB<Tables>(databaseName(this.day), 1, {
      upgrade: (database) => {
        database.createObjectStore("kept", { keyPath: "digest" });
        database.createObjectStore("full");
        database.createObjectStore("settings");
      },
      // Another tab forgets the day.
      blocking: () => this.close(),
      terminated: () => {
        this.opening = null;
      },
    }).catch((error) => {
      this.opening = null;
      throw error;
    });
    return this.opening;
  }

  close(): void {
    this.is_closed = true;
    this.opening?.then((database) => database.close()).catch(() => undefined); // a failed open has nothing to close
  }

  async all(): Promise<Kept[]> {
    return (await this.open()).getAll("kept");
  }
  async one(digest: string): Promise<Kept | undefined> {
    return (await this.open()).get("kept", digest);
  }
  async full(digest: string): Promise<Uint8Array | undefined> {
    return (await this.open()).get("full", digest);
  }

  async change(digest: string, change: Partial<Kept>): Promise<void> {
    const tx = (await this.open()).transaction("kept", "readwrite");
    const kept = await tx.store.get(digest);
    if (kept) tx.store.put({ ...kept, ...change });
    await tx.done;
  }

  /** Store a whole picture, and drop what the budget no longer holds, in one transaction. A full phone throws. */
  async put(kept: Kept, octets: Uint8Array, budget_bytes: number, epoch: string): Promise<void> {
    const tx = (await this.open()).transaction(["kept", "full"], "readwrite", { durability: "strict" });
    const asked: Promise<unknown>[] = [tx.done];
    try {
      const table = tx.objectStore("kept");
      const others = (await table.getAll()).filter((one) => one.digest !== kept.digest && one.has_full);
      let held_bytes = kept.bytes + others.reduce((sum, one) => sum + one.bytes, 0);
      for (const one of others.sort((a, b) => a.at_ms - b.at_ms)) {
        if (held_bytes <= budget_bytes) break;
        if (!epoch || one.sent !== epoch || one.is_pinned) continue;
        held_bytes -= one.bytes;
        asked.push(table.put({ ...one, has_full: false }), tx.objectStore("full").delete(one.digest));
      }
      asked.push(table.put(kept));
      asked.push(tx.objectStore("full").put(octets, kept.digest));
      await Promise.all(asked);
    } catch (error) {
      const cause = tx.error ?? error; // a full phone shows as the reason of the abort
      if (!tx.error) tx.abort();
      await Promise.allSettled(asked); // their reasons are that of the abort
      throw cause;
    }
  }

  async budget(): Promise<number> {
    return (await (await this.open()).get("settings", "budget_bytes")) ?? USUAL_BUDGET_BYTES;
  }
  async setBudget(bytes: number): Promise<void> {
    await (await this.open()).put("settings", bytes, "budget_bytes");
  }
}
