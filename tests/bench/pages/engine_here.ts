// What both of our adapters share: a day opened by the engine's own code, fed with texts in place of a server.
// Texts are taken as a page of an exchange is: read, merged, stored in one transaction, then told to the page.
import { deleteDB } from "idb";
import type { Act, News, Opened } from "../../../pwa/src/engine/contract";
import { DayEngine } from "../../../pwa/src/engine/day_engine";
import { type ReadEdit, readText } from "../../../pwa/src/engine/edit_text";
import type { Rules } from "../../../pwa/src/engine/rules";
import { startRules } from "../../../pwa/src/engine/rules_in_micropython";
import { Shots } from "../../../pwa/src/engine/shots";
import { databaseName } from "../../../pwa/src/engine/store";
import { distance, sheetRecords } from "./a_sheet";

const DAY = "d7k2";
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
