// What both of our adapters share: a day opened by the engine's own code, fed with texts in place of a server.
// Texts are taken as a page of an exchange is: read, merged, stored in one transaction, then told to the page.
import { deleteDB } from "idb";
import type { Act, News, Opened, ShotSummary } from "../../../pwa/src/engine/contract";
import { DayEngine } from "../../../pwa/src/engine/day_engine";
import { type ReadEdit, readText } from "../../../pwa/src/engine/edit_text";
import type { Rules } from "../../../pwa/src/engine/rules";
import { startRules } from "../../../pwa/src/engine/rules_in_micropython";
import { Shots } from "../../../pwa/src/engine/shots";
import { databaseName } from "../../../pwa/src/engine/store";
import { boardRecords, SHOTS, shotKey, ticked } from "./a_board";
import { distance, sheetRecords } from "./a_sheet";

const DAY = "d7k2";
const NOW_MS = 1_764_110_000_000; // after all that the records of the board say
type Summary = ShotSummary & {
  readiness: { reasons: unknown };
  work: { words: { department: string }[]; conditions: unknown };
};
let rules: Promise<Rules> | null = null;

export class Here {
  private engine!: DayEngine;

  constructor(private readonly tell: (news: News) => void) {}

  echo(): void {}

  async open(): Promise<Opened | null> {
    this.engine = new DayEngine(DAY, this.tell);
    return this.engine.open(null, null);
  }

  /** A database that holds these texts, folded into a snapshot, and after it `own` as acts that were never sent. */
  async seed(texts: string[], own: string[]): Promise<void> {
    await deleteDB(databaseName(DAY));
    this.engine = new DayEngine(DAY, () => {});
    const membership = {
      day: DAY,
      day_title: "bench",
      device: "d",
      person: "p-8",
      sets: ["floor"],
    };
    await this.engine.open(null, { membership, token: "" });
    await this.ready();
    for (let start = 0; start < texts.length; start += 500)
      await this.take(texts.slice(start, start + 500), false);
    await this.compact();
    for (const text of own) await this.take([text], true);
    this.engine.close();
  }

  async ready(): Promise<void> {
    rules ??= startRules();
    await this.engine.load(rules);
    await this.engine.ready;
  }

  async act(acts: Act[]): Promise<unknown> {
    return this.engine.act(acts);
  }

  async take(texts: string[], is_own: boolean): Promise<void> {
    const { engine } = this;
    await engine.inQueue(() =>
      engine.commit(
        () => {
          const edits = texts
            .map((text) => readText(text, DAY) as ReadEdit)
            .filter((edit) => !engine.state.held.has(edit.id));
          return engine.changeOf(edits, { is_own });
        },
        "relaxed",
        "server",
      ),
    );
  }

  /** A whole sheet of 8 sources, worked out again after each of `count` edits: what each took, ms. */
  async sheets(count: number): Promise<number[]> {
    await this.seed([], []);
    await this.open();
    await this.ready();
    const { cells } = this.engine.state;
    cells.take(sheetRecords("g"));
    const shots = new Shots(this.engine, { units: "metric", utc_offset_min: 0 }, () => {});
    const times: number[] = [];
    for (let place = -3; place < count; place++) {
      cells.take({ "level/s0~g": distance(`2.${50 + place}`) });
      const start = performance.now();
      shots.compute("g");
      if (place >= 0) times.push(performance.now() - start);
      await new Promise((resolve) => setTimeout(resolve, 5)); // as between two edits: garbage is collected
    }
    this.engine.close();
    return times;
  }

  /**
   * A tick on a day of 2,000 records, ms each: the shot of the tick worked out again, the board, and, as only the board's own
   * screen asks, the forecast of the whole day, with nothing in the way of one.
   */
  async board(count: number): Promise<{ [what: string]: number[] }> {
    await this.seed([], []);
    await this.open();
    await this.ready();
    const { cells } = this.engine.state;
    const records = boardRecords();
    cells.take(records);
    const shots = new Shots(this.engine, { units: "metric", utc_offset_min: 0 }, () => {});
    const summaries = Array.from({ length: SHOTS }, (_, place) => shots.compute(shotKey(place)) as Summary);
    const ask = <T>(asked: { do: string; [name: string]: unknown }): T => this.engine.rules.ask<T>(asked);
    const of_day = Object.fromEntries(Object.entries(records).filter(([key]) => /^(day|person)\//.test(key)));
    const day = ask<{ work: unknown }>({ do: "day", records: of_day, now_ms: NOW_MS }).work;
    const free = (work: Summary["work"]) => ({ ...work, conditions: [] });
    const found: { [what: string]: number[] } = { shot: [], board: [], both: [], forecast: [], ranges: [] };
    found.records = [Object.keys(records).length];
    for (let place = -3; place < count; place++) {
      const shot = (place + 3) % 3; // a crew ticks in the shots that are near
      const took: { [what: string]: number } = {};
      const timed = <T>(what: string, work: () => T): T => {
        const start = performance.now();
        const answer = work();
        took[what] = performance.now() - start;
        return answer;
      };
      cells.take(ticked(shot, 0, place % 2 === 0));
      summaries[shot] = timed("shot", () => shots.compute(shotKey(shot)) as Summary);
      timed("board", () =>
        ask({
          do: "board",
          shots: summaries.map(({ shot, readiness, work }) => ({
            shot,
            readiness: { ...readiness, reasons: [], departments: {} },
            words: work.words.filter(({ department }) => department === "grip"),
          })),
          last_words: {},
          now_ms: NOW_MS,
          complete: true,
        }),
      );
      took.both = (took.shot as number) + (took.board as number);
      const works = summaries.map(({ work }) => free(work));
      const told = timed("forecast", () =>
        ask<{ shots: { when: unknown }[] }>({ do: "forecast", shots: works, day, now_ms: NOW_MS }),
      );
      took.ranges = told.shots.filter(({ when }) => when).length;
      if (place >= 0) for (const what in took) found[what]?.push(took[what] as number);
      await new Promise((resolve) => setTimeout(resolve, 5)); // as between two edits: garbage is collected
    }
    this.engine.close();
    return found;
  }

  private compact(): Promise<void> {
    return this.engine.inQueue(() => this.engine.compact());
  }

  several(): number {
    let count = 0;
    for (const fields of this.engine.state.cells.records.values()) {
      for (const cell of Object.values(fields)) if (cell[1].length > 1) count++;
    }
    return count;
  }

  close(): void {
    this.engine.close();
  }
}
