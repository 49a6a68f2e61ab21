// One open day: its stored form, its form in memory, and the one queue in which it changes.
// Q1 changes run one after another; what a change computed counts only once its transaction completed.
// Q2 a change that the phone failed to store stays in memory, is told as NOT saved, and is tried again.
// Q3 rows of other tabs are taken before a change is computed, inside its own transaction.
import { Author } from "./acts";
import { DayCells, Draft, type Records } from "./cells";
import type {
  Act,
  Cell,
  DayFile,
  Facts,
  Keepsake,
  Membership,
  News,
  NotSaved,
  Opened,
  RecordKey,
  Saved,
} from "./contract";
import { cellsOf, readFile, textOf } from "./day_file";
import { DayState } from "./day_state";
import { type ReadEdit, readText } from "./edit_text";
import { type ExchangeRecord, marked, newExchange, randomText } from "./exchange";
import { recordOf, setOf } from "./held_edits";
import { MemoryStore } from "./memory_store";
import { foldRecord, Kinds, mergeEdits, presenceOf } from "./merging";
import { Notices, sentenceOf } from "./notices";
import { EDITS_PER_CALL, type Rules } from "./rules";
import { SnapshotPlan } from "./snapshot_plan";
import {
  Behind,
  type Compacted,
  type DayStore,
  type Durability,
  type KeyedRow,
  type Row,
  Store,
  type Stored,
} from "./store";
import { type TabNews, Tabs } from "./tabs";

/** Who this phone is, and the token that the server knows it by. */
export type Credential = { membership: Membership; token: string };

/** A change that is computed and not stored yet. */
export type Change = { draft: Draft; row: Row | null; exchange?: ExchangeRecord };

/** Until the rules have looked, nothing may be called complete. */
const NOT_CHECKED = { code: "not_checked", sentence: "still fetching: not checked yet" };
/** What a file holds that is whole and yet not for this phone to take. */
const LEFT_OUT = ["not_for_this_phone", "waits_for_server"];
const COMPACT_ROWS = 150;
const COMPACT_BYTES = 1 << 20;
const COMPACT_IDLE_MS = 4_000;
/** Rows that are in memory only have keys from here on, after every stored one, until they are stored. */
const NOT_STORED = 2 ** 52;

export class DayEngine {
  readonly incarnation = randomText(10);
  readonly notices: Notices;
  readonly tabs: Tabs;
  state = new DayState();
  store: DayStore;
  credential: Credential | null = null;
  exchange: ExchangeRecord | null = null;
  /** Resolves when the stored day is in memory and the rules are up. Until then the day can be read, not changed. */
  readonly ready: Promise<void>;
  rules!: Rules;
  kinds!: Kinds;
  /** Told after every change, in the queue: which records it touched. */
  onChange: (touched: string[], from: "here" | "tab" | "server") => void = () => {};
  /** Told when what this copy lacks was computed anew. */
  onIncomplete: () => void = () => {};
  isComputing: () => boolean = () => true;
  onTabNews: (news: TabNews) => void = () => {};
  is_exchanging = false;
  storage = { is_persisted: false, bytes: null as number | null, bytes_allowed: null as number | null };
  incomplete: Facts["incomplete"] = [NOT_CHECKED];

  private author!: Author;
  private queue: Promise<unknown> = Promise.resolve();
  private setReady!: () => void;
  private setFailed!: (error: unknown) => void;
  private stored: Stored | null = null;
  /** Rows that the phone failed to store, oldest first. */
  private unstored: Row[] = [];
  /** How far the exchange got is in memory only: what is stored is older, and must not be taken for news. */
  private is_exchange_ahead = false;
  private readonly snapshot = new SnapshotPlan();
  private compacting: ReturnType<typeof setTimeout> | undefined;

  constructor(
    readonly day: string,
    private readonly tell: (news: News) => void,
  ) {
    this.notices = new Notices(() => this.tellFacts());
    this.store = new Store(day, (trouble) => this.notices.raise(trouble));
    this.tabs = new Tabs(day, (news) => void this.hearTab(news));
    this.ready = new Promise((resolve, reject) => {
      this.setReady = resolve;
      this.setFailed = reject;
    });
    this.ready.catch((error) => this.notices.fail("start", error));
  }

  // ---- opening

  /** Read the stored day; null when this phone is not on it. `keepsake` tells a lost database from a new one. */
  async open(keepsake: Keepsake | null, joined: Credential | null): Promise<Opened | null> {
    let stored: Stored;
    try {
      await this.store.open();
      stored = await this.store.read();
    } catch (error) {
      this.notices.fail("open", error);
      this.store.close();
      this.store = new MemoryStore();
      this.notices.raise("nothing_kept");
      stored = await this.store.read();
    }
    this.credential = joined ?? (stored.membership as Credential | null);
    if (!this.credential && keepsake) {
      this.credential = { membership: keepsake.membership, token: keepsake.token };
      if (keepsake.edits > 0) this.notices.raise("storage_lost");
    }
    if (!this.credential) return null;
    if (joined || !stored.membership) await this.store.putMembership(this.credential);
    this.stored = stored;
    takeFacts(this.state, stored);
    this.exchange = stored.exchange ? JSON.parse(stored.exchange) : null;
    return this.opened(stored);
  }

  private opened(stored: Stored): Opened {
    const shots = stored.shots.map((text) => JSON.parse(text));
    return {
      state: "day",
      membership: (this.credential as Credential).membership,
      chunks: [...stored.chunks.values(), ...stored.rows.map(({ row }) => row.cells)],
      presence: Object.fromEntries(this.state.presence),
      shots: Object.fromEntries(shots.map((shot) => [shot.shot, shot])),
      facts: this.facts(),
    };
  }

  /** After the first paint: take into memory what the worker itself needs, and the rules. */
  async load(rules: Promise<Rules>): Promise<void> {
    const stored = this.stored as Stored;
    this.stored = null;
    await this.takeContents(this.state, stored);
    try {
      this.rules = await rules;
      this.kinds = new Kinds(this.rules);
    } catch (error) {
      this.notices.raise("rules_failed");
      this.setFailed(error);
      return;
    }
    this.author = new Author(this.rules, this.kinds, this.incarnation, this.day);
    this.exchange = this.withNewSets(this.exchange ?? this.newExchange());
    this.computeIncomplete();
    this.setReady();
    this.tellFacts();
    this.compactSoon();
    this.inQueue(() => this.verify()).catch((error) => this.notices.fail("verify", error));
  }

  /**
   * Compute some records anew from their edits, others at every start, and mend what the snapshot has otherwise.
   * It also runs the merge once before the first edits of others arrive, which is when a phone comes back.
   */
  private async verify(): Promise<void> {
    const { cells, held } = this.state;
    const records = [...cells.records.keys()];
    const start = Math.floor(Math.random() * records.length);
    const edits: ReadEdit[] = [];
    const chosen: RecordKey[] = [];
    for (const record of [...records.slice(start), ...records.slice(0, start)]) {
      const found = held.idsOf(record).map((id) => readText(held.text(id), this.day));
      if (edits.length + found.length > EDITS_PER_CALL) break;
      edits.push(...found.filter((edit) => edit !== null));
      chosen.push(record);
    }
    const draft = new Draft(new DayCells());
    mergeEdits(this.rules, this.kinds, this.day, draft, held, edits);
    const same = (record: RecordKey, field: string): boolean =>
      JSON.stringify(draft.cell(record, field)) === JSON.stringify(cells.cell(record, field));
    const mended = new Draft(cells);
    for (const record of chosen) {
      for (const field in draft.fields(record)) {
        if (!same(record, field)) mended.set(record, field, draft.cell(record, field) as Cell);
      }
    }
    const count = Object.keys(mended.changed).length;
    if (!count) return;
    this.notices.fail("verify", `${count} records differed from their edits and were mended`);
    await this.commit(() => ({ draft: mended, row: this.rowOf(mended, {}) }), "relaxed", "here");
  }

  private async takeContents(state: DayState, stored: Stored): Promise<void> {
    this.snapshot.take(stored.chunks, (part) => state.cells.take(part));
    state.takeHistory(await this.store.history());
    for (const { row } of stored.rows) {
      state.takeContents(row);
      this.snapshot.count(row, Object.keys(JSON.parse(row.cells)));
    }
  }

  /** An exchange that begins anew; its marks count every edit held. */
  private newExchange(): ExchangeRecord {
    const fresh = newExchange(this.rules, (this.credential as Credential).membership.sets);
    for (const set in fresh.marks) {
      const ids = [...this.state.held.ids()].filter((id) => setOf(this.state.held.text(id)) === set);
      fresh.marks[set] = marked(this.rules, {}, ids, []);
    }
    return { ...fresh, upto: this.state.taken };
  }

  /** A phone that joined again may hold a set that it did not hold before. */
  private withNewSets(exchange: ExchangeRecord): ExchangeRecord {
    const { sets } = (this.credential as Credential).membership;
    if (sets.every((set) => exchange.state.sets[set])) return exchange;
    const fresh = newExchange(this.rules, sets);
    const state = { ...exchange.state, sets: { ...fresh.state.sets, ...exchange.state.sets } };
    return { ...exchange, state, marks: { ...fresh.marks, ...exchange.marks } };
  }

  /** Write and read for real, and ask what the browser promises. Run once the first screen stands. */
  async probe(): Promise<void> {
    try {
      await this.store.probe();
    } catch (error) {
      this.notices.fail("probe", error);
      const is_full = error instanceof DOMException && error.name === "QuotaExceededError";
      this.notices.raise(is_full ? "not_saved" : "nothing_kept");
    }
    await this.measureStorage();
  }

  async measureStorage(): Promise<void> {
    const is_persisted = (await navigator.storage?.persisted?.()) ?? false;
    const estimate = await navigator.storage?.estimate?.();
    this.storage = { is_persisted, bytes: estimate?.usage ?? null, bytes_allowed: estimate?.quota ?? null };
    this.tellFacts();
  }

  // ---- the queue

  /** Run one piece of work after all that was asked before it. */
  inQueue<Result>(work: () => Promise<Result>): Promise<Result> {
    const run = this.queue.then(work);
    this.queue = run.catch(() => undefined);
    return run;
  }

  /** Store one change and apply it. `make` computes it from memory alone; it may be called more than once. */
  async commit(
    make: () => Change,
    durability: Durability,
    from: "here" | "server",
  ): Promise<{ stored: boolean }> {
    try {
      await this.commitStored(make, durability, from);
      return { stored: !this.isInMemory() };
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      this.notices.fail("store", error);
      const change = make();
      if (change.row) this.unstored.push(change.row);
      if (change.exchange) this.is_exchange_ahead = true;
      const { length } = this.unstored;
      this.applyChange(change, length ? NOT_STORED + length - 1 : this.state.taken, from);
      this.notices.raise("not_saved");
      return { stored: false };
    }
  }

  private async commitStored(
    make: () => Change,
    durability: Durability,
    from: "here" | "server",
  ): Promise<void> {
    let change: Change | undefined;
    const append = (): Promise<number> =>
      this.store.append(
        () => this.state.taken,
        (rows) => this.takeOthers(rows),
        () => {
          change = make();
          const { row, exchange } = change;
          const rows = row ? [...this.unstored, row] : this.unstored;
          if (exchange) return { rows, exchange: (key) => JSON.stringify({ ...exchange, upto: key }) };
          const { exchange: ahead } = this;
          if (!ahead || !this.is_exchange_ahead) return { rows };
          const upto = (key: number): number => storedKey(ahead.upto, key - rows.length + 1);
          return { rows, exchange: (key) => JSON.stringify({ ...ahead, upto: upto(key) }) };
        },
        durability,
      );
    let key: number;
    try {
      key = await append();
    } catch (error) {
      if (!(error instanceof Behind)) throw error;
      await this.unite();
      key = await append();
    }
    if (this.unstored.length) this.nameStored(key - this.unstored.length + (change?.row ? 0 : 1));
    this.is_exchange_ahead = false;
    this.notices.over("not_saved");
    this.applyChange(change as Change, key, from);
    this.tabs.tell({ told: change?.row ? "rows" : "exchange" });
  }

  /** Rows that were in memory only are stored now, the first of them under this key. */
  private nameStored(first: number): void {
    for (const one of this.state.recent) one.key = storedKey(one.key, first);
    if (this.exchange) this.exchange = { ...this.exchange, upto: storedKey(this.exchange.upto, first) };
    this.unstored = [];
  }

  private applyChange({ draft, row, exchange }: Change, key: number, from: "here" | "server"): void {
    if (exchange) this.exchange = { ...exchange, upto: Math.max(key, this.state.taken) };
    if (row) {
      this.takeRow({ key, row }, draft.changed, from);
      this.tellKeepsake();
      this.compactSoon();
    } else if (key < NOT_STORED) this.state.taken = key;
    this.tellFacts();
  }

  private takeRow({ key, row }: KeyedRow, changed: Records, from: "here" | "tab" | "server"): void {
    this.tell({ news: "records", cells: row.cells, presence: row.presence, from });
    const { taken } = this.state;
    this.state.takeFacts({ key, row });
    if (key >= NOT_STORED) this.state.taken = taken;
    this.state.takeContents(row, changed);
    const touched = Object.keys(changed);
    this.snapshot.count(row, touched);
    this.onChange(touched, from);
  }

  // ---- other tabs, and a database that changed under this one

  /** Rows of other tabs, in their order: each was written by a tab that had taken all before it, so they win. */
  private takeOthers(rows: KeyedRow[]): void {
    for (const keyed of rows) this.takeRow(keyed, JSON.parse(keyed.row.cells), "tab");
    if (rows.length && this.unstored.length) this.mergeUnstored();
  }

  /** Edits that are in memory only had not been seen by the tabs whose rows were just taken: merge them again. */
  private mergeUnstored(): void {
    const texts = this.unstored.flatMap((row) => row.texts.split("\n")).filter((text) => text);
    const edits = texts.map((text) => readText(text, this.day)).filter((edit) => edit !== null);
    const { draft, row } = this.changeOf(edits, {});
    const last = this.unstored.at(-1) as Row;
    this.unstored[this.unstored.length - 1] = {
      ...last,
      cells: JSON.stringify({ ...JSON.parse(last.cells), ...draft.changed }),
    };
    this.state.cells.take(draft.changed);
    this.tell({ news: "records", cells: row?.cells ?? "{}", presence: {}, from: "here" });
  }

  private async hearTab(news: TabNews): Promise<void> {
    this.onTabNews(news);
    if (news.told !== "rows" && news.told !== "exchange") return;
    await this.ready;
    await this.inQueue(() => this.catchUp());
  }

  /** Take what other tabs stored; in the queue. */
  async catchUp(): Promise<void> {
    try {
      const { rows, exchange } = await this.store.rowsAfter(this.state.taken);
      this.takeOthers(rows);
      if (exchange && !this.is_exchange_ahead) this.exchange = JSON.parse(exchange);
      this.computeIncomplete();
    } catch (error) {
      if (error instanceof Behind) await this.unite();
      else this.notices.fail("rows of other tabs", error);
    }
    this.tellFacts();
  }

  /**
   * The database is not the one that this tab knew: emptied by the phone, or compacted past what this tab had
   * taken. Read it anew, then put back into it what only this tab holds.
   */
  private async unite(): Promise<void> {
    const mine = this.state;
    const stored = await this.store.read();
    const state = new DayState();
    takeFacts(state, stored);
    this.snapshot.clear();
    await this.takeContents(state, stored);
    this.state = state;
    this.exchange = stored.exchange ? JSON.parse(stored.exchange) : this.newExchange();
    if (!stored.membership) await this.store.putMembership(this.credential);
    const lacking = [...mine.held.ids()].filter((id) => !state.held.has(id));
    const edits = lacking.map((id) => readText(mine.held.text(id), this.day)).filter((edit) => edit !== null);
    const unsent = lacking.filter((id) => mine.unsent.has(id));
    const refused = state.refused.length ? [] : mine.refused;
    this.unstored = [];
    this.is_exchange_ahead = false;
    this.tell({ news: "day", opened: this.opened(stored) });
    if (edits.length)
      await this.commitStored(() => this.changeOf(edits, { wanted: unsent, refused }), "strict", "here");
  }

  // ---- acts

  async act(acts: Act[], is_whole = false): Promise<(Saved | NotSaved)[]> {
    try {
      await this.ready;
      return await this.inQueue(() => this.actNow(acts, is_whole));
    } catch (error) {
      this.notices.fail("act", error);
      const sentence =
        "Not done: the rules broke off. Nothing was changed; reload, and say what you did in a report.";
      return acts.map(() => ({ saved: false, reasons: [{ field: "", code: "rules_failed", sentence }] }));
    }
  }

  private async actNow(acts: Act[], is_whole = false): Promise<(Saved | NotSaved)[]> {
    let made: ReturnType<Author["make"]> = [];
    const make = (): Change => {
      made = this.author.make(acts, (this.credential as Credential).membership);
      const reasons = made.filter(Array.isArray).flat();
      if (is_whole && reasons.length) made = acts.map(() => reasons);
      return this.changeOf(
        made.filter((one): one is ReadEdit => !Array.isArray(one)),
        { is_own: true },
      );
    };
    const { stored } = await this.commit(make, "strict", "here");
    this.author.applied(acts, made);
    const code = this.store instanceof MemoryStore ? "nothing_kept" : "not_saved";
    return made.map((one): Saved | NotSaved => {
      if (Array.isArray(one)) return { saved: false, reasons: one };
      if (stored) return { saved: true, id: one.id };
      return {
        saved: false,
        id: one.id,
        reasons: [{ field: "", code, sentence: sentenceOf(code) }],
      };
    });
  }

  // ---- files

  async file(): Promise<string> {
    await this.ready;
    const title = this.state.cells.cell(`day/${this.day}`, "title")?.[1][0]?.[1];
    const { day_title } = (this.credential as Credential).membership;
    return textOf(this.rules, this.day, typeof title === "string" ? title : day_title, this.state);
  }

  /** Read a file; with `take` store what is whole of it, all in one transaction, to be sent like own edits. */
  async readFile(text: string, { day = this.day, take = false, only_whole = false }): Promise<DayFile> {
    await this.ready;
    return this.inQueue(async () => {
      const read = readFile(this.rules, text, day, this.state.held);
      const fresh = read.edits.filter((edit) => !this.state.held.has(edit.id));
      const is_whole = !read.is_cut && read.faults.every(({ code }) => LEFT_OUT.includes(code));
      if (take && fresh.length && (is_whole || only_whole)) {
        const make = (): Change => {
          const edits = fresh.filter((edit) => !this.state.held.has(edit.id));
          return this.changeOf(edits, { wanted: edits.map((edit) => edit.id) });
        };
        await this.commit(make, "strict", "server");
        this.computeIncomplete();
      }
      const { edits, ...told } = read;
      const known = edits.length - fresh.length;
      const cells = day ? {} : { cells: cellsOf(this.rules, this.kinds, read) };
      return { ...told, known, fresh: fresh.length, ...cells };
    });
  }

  async remove(record: RecordKey, for_whom: string): Promise<Saved | NotSaved> {
    await this.ready;
    return this.inQueue(async () => {
      const records: Records = {};
      for (const key of [record, ...this.partsOf(record)])
        records[key] = this.state.cells.records.get(key) ?? {};
      const { value } = this.rules.ask<{ value: Act["set"][string] }>({ do: "removal", record, records });
      const painted = { present: (this.state.cells.cell(record, "present")?.[1] ?? []).map(([id]) => id) };
      const [kind = "", id = ""] = record.split("/");
      const [answer] = await this.actNow([{ kind, record: id, set: { present: value }, painted, for_whom }]);
      return answer as Saved | NotSaved;
    });
  }

  /** The parts of a record: records whose field names it as their whole. */
  private partsOf(record: RecordKey, draft = new Draft(this.state.cells)): RecordKey[] {
    const [kind = "", id = ""] = record.split("/");
    const found = new Set<RecordKey>();
    for (const [part, field] of this.kinds.parts_of.get(kind) ?? []) {
      for (const key of [...this.state.cells.records.keys(), ...Object.keys(draft.changed)]) {
        if (key.startsWith(`${part}/`) && draft.cell(key, field)?.[1][0]?.[1] === id) found.add(key);
      }
    }
    return [...found].sort();
  }

  // ---- changes

  /** The change that edits make which were not held before, and edits which leave the day because they were refused. */
  changeOf(edits: ReadEdit[], with_row: Partial<Row>, leaving: string[] = []): Change {
    const { held, cells, presence } = this.state;
    const draft = new Draft(cells);
    mergeEdits(this.rules, this.kinds, this.day, draft, held, edits);
    const left = new Set(leaving.filter((id) => held.has(id)));
    for (const record of new Set([...left].map((id) => recordOf(held.text(id))))) {
      foldRecord(this.rules, this.day, draft, held, edits, record, left);
    }
    const found = presenceOf(this.rules, this.kinds, draft, (record) => this.partsOf(record, draft));
    const changed = Object.entries(found).filter(
      ([record, now]) => now !== (presence.get(record) ?? "present"),
    );
    const row = this.rowOf(draft, {
      ids: edits.map((edit) => edit.id).join(" "),
      texts: edits.map((edit) => edit.text).join("\n"),
      presence: Object.fromEntries(changed),
      dropped: [...left].map((id) => [id, setOf(held.text(id))]),
      ...with_row,
    });
    const is_empty = !row.ids && !row.confirmed.length && !row.wanted.length && !row.dropped.length;
    return { draft, row: is_empty ? null : row };
  }

  private rowOf(draft: Draft, more: Partial<Row>): Row {
    return {
      incarnation: this.incarnation,
      ids: "",
      texts: "",
      is_own: false,
      at_ms: Date.now(),
      groups: [],
      cells: JSON.stringify(draft.changed),
      presence: {},
      confirmed: [],
      wanted: [],
      refused: [],
      dropped: [],
      ...more,
    };
  }

  /** The exchange's marks over everything held, edits that are arriving included and those that leave left out. */
  marksNow(
    exchange: ExchangeRecord,
    arriving: ReadEdit[] = [],
    leaving: string[] = [],
  ): ExchangeRecord["marks"] {
    const pending = this.state.recent.filter((one) => one.key > exchange.upto);
    const marks = { ...exchange.marks };
    for (const set in marks) {
      const of_set = pending.filter((one) => one.set === set);
      const added = of_set.filter((one) => !one.is_drop).map((one) => one.id);
      const arrived = arriving.filter((edit) => edit.set === set).map((edit) => edit.id);
      const left = leaving.filter((id) => setOf(this.state.held.text(id)) === set);
      const drop = [...of_set.filter((one) => one.is_drop).map((one) => one.id), ...left];
      if (added.length || arrived.length || drop.length) {
        marks[set] = marked(this.rules, marks[set] ?? {}, [...added, ...arrived], drop);
      }
    }
    return marks;
  }

  /** Ask the rules what this copy lacks. */
  computeIncomplete(): void {
    const exchange = this.exchange as ExchangeRecord;
    const { cells } = this.state;
    const counting = [...cells.ofKind("void")].filter((record) => cells.cell(record, "why")?.[1].length);
    const voids = counting.map((record) => record.slice("void/".length));
    const asked = {
      do: "completeness",
      state: exchange.state,
      marks: this.marksNow(exchange),
      absent: this.state.cells.absent(),
      voids,
    };
    this.incomplete = this.rules.ask<{ reasons: Facts["incomplete"] }>(asked).reasons;
    this.onIncomplete();
  }

  // ---- compacting

  private compactSoon(): void {
    if (this.snapshot.row_count < COMPACT_ROWS && this.snapshot.row_bytes < COMPACT_BYTES) return;
    clearTimeout(this.compacting);
    const compact = (): void => {
      this.inQueue(() => this.compact()).catch((error) => this.notices.fail("compact", error));
    };
    this.compacting = setTimeout(compact, COMPACT_IDLE_MS);
  }

  /** Fold the rows into the snapshot; in the queue. */
  async compact(): Promise<void> {
    if (this.unstored.length) return;
    let chunks = new Map<number, string>();
    const is_done = await this.store.compact(this.state.taken, (): Compacted => {
      chunks = this.snapshot.chunksToWrite(this.state.cells.records);
      const exchange = this.exchange as ExchangeRecord;
      const whole = { ...exchange, marks: this.marksNow(exchange), upto: this.state.taken };
      return { chunks, summary: this.state.head(), exchange: JSON.stringify(whole) };
    });
    if (is_done) this.snapshot.written(chunks);
  }

  // ---- facts

  /** Something of the day is kept nowhere. */
  private isInMemory(): boolean {
    return this.store instanceof MemoryStore || this.unstored.length > 0 || this.notices.has("nothing_kept");
  }

  facts(): Facts {
    const { state, exchange, storage } = this;
    let oldest_unsent_ms: number | null = null;
    for (const at_ms of state.unsent.values()) oldest_unsent_ms = Math.min(oldest_unsent_ms ?? at_ms, at_ms);
    return {
      unsent: state.unsent.size,
      oldest_unsent_ms,
      heard_ms: exchange?.state.heard_ms || null,
      matched_ms: exchange?.state.matched_ms || null,
      incomplete: this.incomplete,
      exchanging: this.is_exchanging,
      kept: this.isInMemory() ? "memory" : storage.is_persisted ? "kept" : "stored",
      bytes: storage.bytes,
      bytes_allowed: storage.bytes_allowed,
      acts: state.acts,
      edits: state.edits,
      heard: exchange?.heard ?? {},
      clock_ahead_ms: exchange?.clock_ahead_ms ?? null,
      refused: state.refused,
      notices: this.notices.list(),
      rules: this.kinds?.rules ?? null,
      computing: this.isComputing(),
    };
  }

  tellFacts(): void {
    this.tell({ news: "facts", facts: this.facts() });
  }

  tellKeepsake(): void {
    if (!this.credential) return;
    const { membership, token } = this.credential;
    const keepsake = {
      day: this.day,
      day_title: membership.day_title,
      edits: this.state.edits,
      unsent: this.state.unsent.size,
    };
    this.tell({ news: "keepsake", keepsake: { ...keepsake, membership, token } });
  }

  close(): void {
    clearTimeout(this.compacting);
    this.tabs.close();
    // What is still being computed must not open a database again that is about to be dropped.
    if (this.store instanceof Store) this.store.is_given_up = true;
    this.store.close();
  }
}

/** The key that a row has once those in memory only are stored, the first of them under `first`. */
const storedKey = (key: number, first: number): number =>
  key >= NOT_STORED ? first + key - NOT_STORED : key;

function takeFacts(state: DayState, stored: Stored): void {
  if (stored.head) state.takeHead(stored.head);
  for (const keyed of stored.rows) state.takeFacts(keyed);
}
