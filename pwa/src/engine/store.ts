// The day on this phone: a snapshot of cells, and rows appended since. Knows no rule and no network.
// S1 "saved" means that the transaction completed. S2 a row is written only by a tab that has taken all rows
// before it (checked inside the transaction), so rows in order, the last one winning, give the day.
// S3 nothing is removed: compacting moves texts from rows to history in one transaction.
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Presence, RecordKey, Refused } from "./contract";

/** One act or one page of an exchange, with the cells that came of it. */
export type Row = {
  incarnation: string;
  /** Ids in order, parted by spaces; texts likewise by line breaks. An empty line: that text was held already. */
  ids: string;
  texts: string;
  /** Made on this phone, so not confirmed by a server yet. */
  is_own: boolean;
  /** When it was written, by this phone's clock. */
  at_ms: number;
  /** Who carried the edits to the server and when they arrived there: number of ids, carrier, time (0: not known). */
  groups: [count: number, carrier: string, received_ms: number][];
  /** JSON {record key: {field: cell}}, only what changed. */
  cells: string;
  presence: { [record: RecordKey]: Presence };
  /** Ids that the server has, and ids that it asked for again. */
  confirmed: string[];
  wanted: string[];
  refused: Refused[];
  /** Ids that left the day with a refusal, and their set. */
  dropped: [id: string, set: string][];
};

export type KeyedRow = { key: number; row: Row };
/** Texts that were in rows once. */
export type HistoryRow = Pick<Row, "ids" | "texts" | "groups" | "dropped">;

/** What the rows up to `upto` came to, besides cells and texts. */
export type Head = {
  upto: number;
  unsent: [id: string, at_ms: number][];
  refused: Refused[];
  presence: { [record: RecordKey]: Presence };
  acts: number;
  edits: number;
};

export type Stored = {
  membership: unknown;
  head: Head | null;
  chunks: Map<number, string>;
  rows: KeyedRow[];
  /** JSON text of exchange.ts, with the row up to which its marks count. */
  exchange: string | null;
  shots: string[];
};

type Line = { birth: string; upto: number };

export type Durability = "strict" | "relaxed";

/** Rows to append, and the exchange to put beside them in the same transaction; it is told the last row's key. */
export type Addition = { rows: Row[]; exchange?: (key: number) => string };

/** What compacting writes: chunks of the snapshot, what the rows came to, the exchange. */
export type Compacted = { chunks: Map<number, string>; summary: Head; exchange: string };

/** The database is not the one that this tab knew (emptied, or compacted past it): both must be united first. */
export class Behind extends Error {}

/** What the engine needs of a store; memory_store.ts is the other one. */
export type DayStore = Pick<
  Store,
  | "open"
  | "close"
  | "read"
  | "history"
  | "rowsAfter"
  | "append"
  | "putMembership"
  | "putShots"
  | "compact"
  | "probe"
> & { readonly is_new: boolean };

export type StorageTrouble = "nothing_kept" | "not_saved" | "older_tab" | "storage_lost";

interface Tables extends DBSchema {
  head: { key: string; value: unknown };
  snapshot: { key: number; value: string };
  rows: { key: number; value: Row };
  history: { key: number; value: HistoryRow };
  shots: { key: string; value: string };
  reserve: { key: number; value: Uint8Array };
}
type Table = "head" | "snapshot" | "rows" | "history" | "shots" | "reserve";
const TABLES: Table[] = ["head", "snapshot", "rows", "history", "shots", "reserve"];
const VERSION = 1;
const BLOCKED_MS = 2_000;
const OPEN_MS = 10_000;
const RESERVE_BYTES = 1 << 20;

export const databaseName = (day: string): string => `tailslate.${day}`;

/** The connection is gone though the object is there: reopening may help. */
export const isDead = (error: unknown): boolean =>
  error instanceof DOMException &&
  ["InvalidStateError", "UnknownError", "NotFoundError", "AbortError", "TransactionInactiveError"].includes(
    error.name,
  );
const isFull = (error: unknown): boolean =>
  error instanceof DOMException && error.name === "QuotaExceededError";

export class Store {
  private connection: IDBPDatabase<Tables> | null = null;
  /** The database was made anew by this open: it was empty. */
  is_new = false;
  /** Which database this tab knows: one that was emptied and made again is another. */
  private birth = "";
  /** This tab gave its connection up to a tab of another version. */
  is_given_up = false;

  constructor(
    readonly day: string,
    private readonly tell: (trouble: StorageTrouble) => void,
  ) {}

  /** Open, or throw when the browser refuses or does not answer within 10 s. */
  async open(): Promise<void> {
    if (this.is_given_up) throw new DOMException("given up to another version", "VersionError");
    this.is_new = false;
    let waiting: ReturnType<typeof setTimeout> | undefined;
    const opening = openDB<Tables>(databaseName(this.day), VERSION, {
      upgrade: (database) => {
        this.is_new = true;
        database
          .createObjectStore("head")
          .put({ birth: crypto.getRandomValues(new Uint32Array(2)).join("."), upto: 0 }, "line");
        database.createObjectStore("snapshot");
        database.createObjectStore("rows");
        database.createObjectStore("history", { autoIncrement: true });
        database.createObjectStore("shots");
        database.createObjectStore("reserve");
      },
      blocked: () => {
        waiting = setTimeout(() => this.tell("older_tab"), BLOCKED_MS);
      },
      // Another tab wants a newer version, or to drop the day. Transactions under way complete before the close.
      blocking: () => {
        this.is_given_up = true;
        this.close();
        this.tell("older_tab");
      },
      terminated: () => {
        this.connection = null;
      },
    });
    const deadline = new Promise<never>((_resolve, reject) => {
      setTimeout(
        () => reject(new DOMException("the database did not open in 10 s", "TimeoutError")),
        OPEN_MS,
      );
    });
    try {
      this.connection = await Promise.race([opening, deadline]);
    } finally {
      clearTimeout(waiting);
    }
  }

  private compare(line: Line, taken: number): void {
    if (line.birth !== this.birth || line.upto > taken) throw new Behind();
  }

  close(): void {
    this.connection?.close();
    this.connection = null;
  }

  private async handle(): Promise<IDBPDatabase<Tables>> {
    if (!this.connection) {
      await this.open();
      if (this.is_new && this.birth) this.tell("storage_lost");
    }
    return this.connection as IDBPDatabase<Tables>;
  }

  /** Run one piece of work; a dead connection is reopened once, a full phone gives up its reserve once. */
  private async attempt<Result>(work: (database: IDBPDatabase<Tables>) => Promise<Result>): Promise<Result> {
    try {
      return await work(await this.handle());
    } catch (error) {
      if (isFull(error) && (await this.freeReserve())) return work(await this.handle());
      if (!isDead(error) || this.is_given_up) throw error;
      this.close();
      return work(await this.handle());
    }
  }

  /** Everything that the first screen needs, in one transaction. */
  read(): Promise<Stored> {
    return this.attempt(async (database) => {
      const tx = database.transaction(TABLES, "readonly");
      const head = tx.objectStore("head");
      const snapshot = tx.objectStore("snapshot");
      const rows = tx.objectStore("rows");
      const [line, membership, one, exchange, keys, texts, row_keys, row_values, shots] = await Promise.all([
        head.get("line"),
        head.get("membership"),
        head.get("head"),
        head.get("exchange"),
        snapshot.getAllKeys(),
        snapshot.getAll(),
        rows.getAllKeys(),
        rows.getAll(),
        tx.objectStore("shots").getAll(),
      ]);
      this.birth = (line as Line).birth;
      return {
        membership: membership ?? null,
        head: (one as Head | undefined) ?? null,
        chunks: new Map(keys.map((key, place) => [key, texts[place] ?? ""])),
        rows: row_keys.map((key, place) => ({ key, row: row_values[place] as Row })),
        exchange: (exchange as string | undefined) ?? null,
        shots,
      };
    });
  }

  /** Texts that compacting moved out of the rows, oldest first. */
  history(): Promise<HistoryRow[]> {
    return this.attempt((database) => database.getAll("history"));
  }

  /** Rows that other tabs appended after `key`, and the exchange as stored now. */
  rowsAfter(key: number): Promise<{ rows: KeyedRow[]; exchange: string | null }> {
    return this.attempt(async (database) => {
      const tx = database.transaction(["rows", "head"], "readonly");
      const head = tx.objectStore("head");
      const [upto, exchange, rows] = await Promise.all([
        head.get("upto"),
        head.get("exchange"),
        newer(tx.objectStore("rows"), key),
      ]);
      if (((upto as number | undefined) ?? 0) > key) throw new Behind();
      return { rows, exchange: (exchange as string | undefined) ?? null };
    });
  }

  /**
   * Append one row after those that this tab has taken. `make` computes it, without awaiting anything; when rows
   * of other tabs came in between they are handed to `takeRows`, inside the transaction, and it computes it again.
   * Returns the last row's key once the transaction completed.
   */
  append(
    taken: () => number,
    takeRows: (rows: KeyedRow[]) => void,
    make: () => Addition,
    durability: Durability,
  ): Promise<number> {
    return this.attempt(async (database) => {
      const tx = database.transaction(["rows", "head"], "readwrite", { durability });
      const rows = tx.objectStore("rows");
      const head = tx.objectStore("head");
      try {
        // What other tabs stored is looked up while the change is computed; it is computed again if there was any.
        const looking = Promise.all([head.get("line"), newer(rows, taken())]);
        let addition = make();
        const [line, others] = await looking;
        this.compare(line as Line, taken());
        if (others.length) {
          takeRows(others);
          addition = make();
        }
        // Each key follows the last row taken: nothing else can be there. Told to commit, the transaction does not
        // wait for the answer to each of its requests first.
        let key = taken();
        const asked: Promise<unknown>[] = addition.rows.map((row) => rows.add(row, ++key));
        if (addition.exchange) asked.push(head.put(addition.exchange(key), "exchange"));
        tx.commit();
        await Promise.all([...asked, tx.done]);
        return key;
      } catch (error) {
        // A full phone shows only as the reason of the transaction's abort.
        await tx.done.catch((reason) => {
          if (isFull(reason)) throw reason;
        });
        throw error;
      }
    });
  }

  putMembership(membership: unknown): Promise<void> {
    return this.attempt(async (database) => {
      const tx = database.transaction("head", "readwrite", { durability: "strict" });
      await tx.store.put(membership, "membership");
      await tx.done;
    });
  }

  putShots(shots: [shot: string, text: string][]): Promise<void> {
    return this.attempt(async (database) => {
      const tx = database.transaction("shots", "readwrite", { durability: "relaxed" });
      for (const [shot, text] of shots) tx.store.put(text, shot);
      await tx.done;
    });
  }

  /**
   * Fold the rows into the snapshot: `make` gives the chunks that changed; texts move to history. Does nothing
   * (false) when another tab appended or compacted in the meantime.
   */
  compact(taken: number, make: () => Compacted): Promise<boolean> {
    return this.attempt(async (database) => {
      const tx = database.transaction(["head", "snapshot", "rows", "history"], "readwrite", {
        durability: "strict",
      });
      const head = tx.objectStore("head");
      const rows = tx.objectStore("rows");
      const [line, keys, values] = await Promise.all([head.get("line"), rows.getAllKeys(), rows.getAll()]);
      if ((line as Line).birth !== this.birth || keys.at(-1) !== taken) {
        await tx.done;
        return false;
      }
      const { chunks, summary, exchange } = make();
      for (const [key, text] of chunks) tx.objectStore("snapshot").put(text, key);
      tx.objectStore("history").add(joined(values));
      head.put(summary, "head");
      head.put({ birth: this.birth, upto: taken }, "line");
      head.put(exchange, "exchange");
      rows.delete(IDBKeyRange.upperBound(taken));
      await tx.done;
      return true;
    });
  }

  /** A real write and read: some browsers open a database and then keep nothing. Leaves 1 MB in reserve. */
  async probe(): Promise<void> {
    await this.attempt(async (database) => {
      if (await database.count("reserve")) {
        await database.put("head", Date.now(), "probe");
        return;
      }
      await database.put("reserve", noise(RESERVE_BYTES), 1);
      if (!(await database.count("reserve")))
        throw new DOMException("what was written is not there", "UnknownError");
    });
  }

  private async freeReserve(): Promise<boolean> {
    const database = await this.handle();
    if (!(await database.count("reserve"))) return false;
    await database.clear("reserve");
    return true;
  }
}

/** Bytes that no storage can press together. */
function noise(size_bytes: number): Uint8Array {
  const octets = new Uint8Array(size_bytes);
  const at_once_bytes = 65_536; // as many as one call gives
  for (let start = 0; start < size_bytes; start += at_once_bytes) {
    crypto.getRandomValues(octets.subarray(start, start + at_once_bytes));
  }
  return octets;
}

function joined(rows: Row[]): HistoryRow {
  const held = rows.filter((row) => row.ids);
  return {
    ids: held.map((row) => row.ids).join(" "),
    texts: held.map((row) => row.texts).join("\n"),
    groups: held.flatMap((row): Row["groups"] =>
      row.groups.length ? row.groups : [[row.ids.split(" ").length, "", 0]],
    ),
    dropped: rows.flatMap((row) => row.dropped),
  };
}

type RowsTable = {
  getAllKeys(range: IDBKeyRange): Promise<number[]>;
  getAll(range: IDBKeyRange): Promise<Row[]>;
};

async function newer(rows: RowsTable, key: number): Promise<KeyedRow[]> {
  const range = IDBKeyRange.lowerBound(key, true);
  const keys = await rows.getAllKeys(range);
  if (!keys.length) return [];
  const values = await rows.getAll(range);
  return keys.map((one, place) => ({ key: one, row: values[place] as Row }));
}
