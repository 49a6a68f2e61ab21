// What the rules make of each shot, kept as a cache: computed again when a record that it read has changed.
import type { Offset, RecordKey, ShotSummary } from "./contract";
import type { DayEngine } from "./day_engine";
import { Gatherer, type Step } from "./gather";

const PAUSE_MS = 30;

export type HowTold = { units: string; utc_offset_min: Offset };

export class Shots {
  private readonly gatherer: Gatherer;
  private readonly day_gatherer: Gatherer;
  /** Shot id -> the records that its summary rests on. */
  private readonly rests_on = new Map<string, Set<RecordKey>>();
  private readonly waiting = new Set<string>();
  private timer: ReturnType<typeof setTimeout> | undefined;
  private open_holds: string[] | null = null;
  private incomplete = "";
  private is_visible = true;

  constructor(
    private readonly day: DayEngine,
    private how_told: HowTold,
    private readonly publish: (shots: ShotSummary[]) => void,
  ) {
    const reads = day.rules.ask<{ shot: Step[]; day: Step[] }>({ do: "reads" });
    this.gatherer = new Gatherer(() => day.state.cells, day.kinds, reads.shot);
    day.isComputing = () => this.waiting.size > 0;
    this.day_gatherer = new Gatherer(() => day.state.cells, day.kinds, reads.day);
  }

  /** Take up stored summaries: those of these rules, this completeness and this way of telling stand. */
  begin(stored: ShotSummary[]): void {
    const known = new Map(stored.map((one) => [one.shot, one]));
    this.incomplete = this.incompleteNow();
    for (const key of this.day.state.cells.ofKind("shot")) {
      const shot = key.slice("shot/".length);
      const one = known.get(shot);
      this.rests_on.set(shot, this.gatherer.follow([key]));
      const stands = one && one.rules === this.day.kinds.rules && one.made_for === this.madeFor(shot);
      if (!stands) this.waiting.add(shot);
    }
    this.next();
  }

  /** Say quantities and times in another way from now on. */
  tellIn(how_told: HowTold): void {
    if (JSON.stringify(how_told) === JSON.stringify(this.how_told)) return;
    this.how_told = how_told;
    this.all();
  }

  /** Records changed: the shots that read them are computed again, a moment later. */
  touched(keys: string[]): void {
    for (const key of keys) {
      if (key.startsWith("hold/")) this.open_holds = null;
      if (key.startsWith("shot/")) this.waiting.add(key.slice("shot/".length));
      for (const [shot, rests_on] of this.rests_on) {
        if (rests_on.has(key) || this.gatherer.wouldReach(key, rests_on)) this.waiting.add(shot);
      }
    }
    this.soon();
  }

  /** The copy became complete, or incomplete. */
  completenessChanged(): void {
    const now = this.incompleteNow();
    if (now === this.incomplete) return;
    this.incomplete = now;
    this.all();
  }

  all(): void {
    for (const key of this.day.state.cells.ofKind("shot")) this.waiting.add(key.slice("shot/".length));
    this.soon();
  }

  compute(shot: string): ShotSummary | null {
    if (!this.day.state.cells.records.has(`shot/${shot}`)) return null;
    const keys = this.gatherer.follow([`shot/${shot}`]);
    this.rests_on.set(shot, keys);
    this.waiting.delete(shot);
    const { sheet, readiness, work } = this.day.rules.ask<Pick<ShotSummary, "sheet" | "readiness" | "work">>({
      do: "shot",
      shot,
      records: this.gatherer.recordsOf(keys),
      now_ms: Date.now(),
      complete: this.day.incomplete.length === 0,
      incomplete: this.day.incomplete,
      ...this.how_told,
    });
    const place = this.day.exchange?.state.sets.floor?.place ?? null;
    return {
      shot,
      rules: this.day.kinds.rules,
      place,
      computed_ms: Date.now(),
      made_for: this.madeFor(shot),
      sheet,
      readiness,
      work,
    };
  }

  /** Ids of the edits that raise holds which nobody has cleared, as the rules see it. */
  openHolds(): string[] {
    if (!this.open_holds) {
      const has_holds = this.day.state.cells.ofKind("hold").size > 0;
      const records = has_holds ? this.day_gatherer.recordsOf(this.day_gatherer.follow([])) : {};
      const holds = has_holds
        ? this.day.rules.ask<{ holds: { ids: string[]; cleared: boolean }[] }>({
            do: "day",
            records,
            ...this.how_told,
          }).holds
        : [];
      this.open_holds = holds.filter((hold) => !hold.cleared).flatMap((hold) => hold.ids);
    }
    return this.open_holds;
  }

  private incompleteNow(): string {
    return this.day.incomplete.map((one) => one.sentence).join(" ");
  }

  /** What a summary depends on beside the records' changes, which `touched` follows. */
  private madeFor(shot: string): string {
    let edits = 0;
    for (const key of this.rests_on.get(shot) ?? []) {
      for (const cell of Object.values(this.day.state.cells.records.get(key) ?? {})) {
        edits += cell[1].length + cell[2].length + cell[4].length;
      }
    }
    return JSON.stringify([this.how_told, this.incompleteNow(), this.rests_on.get(shot)?.size, edits]);
  }

  /** Nothing is computed while the app is out of sight. */
  show(is_visible: boolean): void {
    this.is_visible = is_visible;
    this.soon();
  }

  private soon(): void {
    if (this.is_visible && this.waiting.size && this.timer === undefined)
      this.timer = setTimeout(() => this.computeNext(), PAUSE_MS);
  }

  private next(): void {
    this.soon();
    if (!this.waiting.size) this.day.tellFacts();
  }

  /** One shot at a time, so that an act never waits for more than one. */
  private computeNext(): void {
    this.timer = undefined;
    const [shot] = this.waiting;
    if (shot === undefined) return;
    this.day
      .inQueue(async () => {
        const summary = this.compute(shot);
        this.waiting.delete(shot);
        if (summary) this.publish([summary]);
      })
      .catch((error) => {
        this.waiting.delete(shot);
        this.day.notices.fail(`shot`, error);
      })
      .finally(() => this.next());
  }
}
