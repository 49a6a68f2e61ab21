// Rounds of the exchange: ask the rules what to send, carry it, merge what came, store all of it in one
// transaction. Also when: the rules name the time; here is only the waiting for it, and the bell.
// R1 nothing counts as sent but by the rules' word on a reply. R2 answers are stored with the merged cells.
// R3 nothing runs while the app is out of sight.
import { listenToBell } from "./bell";
import type { Notice, Refused } from "./contract";
import type { Change, DayEngine } from "./day_engine";
import { type ReadEdit, readText } from "./edit_text";
import {
  type Answer,
  carry,
  chanceNow,
  type ExchangeRecord,
  groupsOf,
  type Request,
  randomText,
  type Told,
  unsentPairs,
  withoutTexts,
} from "./exchange";
import { recordOf } from "./held_edits";
import { RulesRefused } from "./rules";

/** What calls for a round: the clock, news that is worth one, or someone who asks or looks. */
export type Urge = "time" | "news" | "asked";

const URGENT_PAUSE_MS = 50;

/** The notice for each outcome that is not "taken". */
const NOTICE_OF: { [outcome in Told["outcome"]]?: Notice["code"] } = {
  no_signal: "not_reached",
  busy: "not_reached",
  too_large: "not_reached",
  sign_in_page: "wifi_sign_in",
  not_allowed: "not_allowed",
  refused: "server_older",
};

export class ExchangeRounds {
  private timer: ReturnType<typeof setTimeout> | undefined;
  private running: Promise<void> | null = null;
  /** What calls for the next round, the strongest of it. */
  private urge: Urge = "time";
  private is_visible = true;
  private hidden = new AbortController();
  private bell: Promise<void> | null = null;
  private readonly closed = new AbortController();
  /** Told when a round is over, whatever came of it. */
  onRound: () => void = () => {};

  constructor(
    private readonly day: DayEngine,
    private readonly openHolds: () => string[],
  ) {}

  /** Out of sight all stops. Back in sight: exchange at once, and listen anew, for a stream may look alive and be dead. */
  show(is_visible: boolean): void {
    if (!is_visible) {
      clearTimeout(this.timer);
      this.hidden.abort();
      this.bell = null;
    } else if (!this.is_visible) this.hidden = new AbortController();
    this.is_visible = is_visible;
    this.soon("asked");
  }

  /** Something happened that is worth an exchange: an act, a bell, a network. */
  soon(urge: Urge = "news"): void {
    if (!this.is_visible || this.closed.signal.aborted) return;
    this.want(urge);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.run(urge), URGENT_PAUSE_MS);
  }

  close(): void {
    clearTimeout(this.timer);
    this.hidden.abort();
    this.closed.abort();
  }

  /** Keep the stronger of two calls for the same round. */
  private want(urge: Urge): void {
    if (this.urge !== "asked" && urge !== "time") this.urge = urge;
  }

  /** One round at a time in this tab; asked for during one, another follows. */
  run(urge: Urge): Promise<void> {
    this.want(urge);
    if (this.running) return this.running;
    const strongest = this.urge;
    this.urge = "time";
    this.running = this.day.ready
      .then(() => this.day.tabs.alone(() => this.rounds(strongest)))
      .catch((error) => this.day.notices.fail("exchange", error))
      .finally(() => {
        this.running = null;
        this.day.is_exchanging = false;
        this.day.tellFacts();
        this.onRound();
        if (this.urge !== "time") this.soon(this.urge);
      });
    return this.running;
  }

  private async rounds(first: Urge): Promise<void> {
    let urge = first;
    while (!this.closed.signal.aborted) {
      const request = await this.day.inQueue(() => this.prepare(urge));
      if (request.wait_ms > 0) {
        this.wait(request.wait_ms);
        return;
      }
      this.day.is_exchanging = true;
      this.day.tellFacts();
      const { token } = this.day.credential as NonNullable<DayEngine["credential"]>;
      const answer = await carry(
        `/api/days/${encodeURIComponent(this.day.day)}/exchange`,
        token,
        { ...request.body, lines: true },
        this.closed.signal,
      );
      if (this.closed.signal.aborted) return;
      const is_more = await this.day.inQueue(() => this.take(request, answer));
      if (!is_more) break;
      urge = "news";
    }
    const { state } = this.day.exchange as ExchangeRecord;
    this.wait(state.next_ms - Date.now());
    if (!state.failures) this.listen();
  }

  private wait(wait_ms: number): void {
    clearTimeout(this.timer);
    if (this.is_visible) this.timer = setTimeout(() => void this.run("time"), Math.max(wait_ms, 0));
  }

  private async prepare(urge: Urge): Promise<Request> {
    const { day } = this;
    await day.catchUp();
    const exchange = day.exchange as ExchangeRecord;
    const marks = day.marksNow(exchange);
    const ids: { [set: string]: { [incarnation: string]: string[] } } = {};
    const is_comparing = Object.values(exchange.state.sets).some((one) => one.details !== null);
    if (is_comparing) {
      const { differing } = this.settle(exchange.state, marks);
      for (const set in differing) ids[set] = day.state.held.idsMadeBy(differing[set] ?? [], set);
    }
    const nonce = randomText(16);
    const request = day.rules.ask<Omit<Request, "nonce">>({
      do: "next_request",
      state: exchange.state,
      now_ms: Date.now(),
      nonce,
      unsent: unsentPairs(day.state.unsent.keys(), day.state.held),
      marks,
      ids,
      open_holds: this.openHolds(),
      urge,
    });
    return { ...request, nonce };
  }

  private settle(
    state: ExchangeRecord["state"],
    marks: ExchangeRecord["marks"],
    unsent: { [set: string]: number } = {},
  ) {
    return this.day.rules.ask<{
      state: ExchangeRecord["state"];
      differing: { [set: string]: string[] };
      again: boolean;
    }>({
      do: "settle",
      state,
      now_ms: Date.now(),
      marks,
      unsent,
    });
  }

  /** Take a reply, or the lack of one. Says whether there is more to do at once. */
  private async take(request: Request, answer: Answer): Promise<boolean> {
    const { day } = this;
    const before = day.exchange as ExchangeRecord;
    const now_ms = Date.now();
    const told = day.rules.ask<Told>({
      do: "take_reply",
      state: before.state,
      now_ms,
      chance: chanceNow(),
      nonce: request.nonce,
      sent: request.sent,
      status: answer.status,
      content_type: answer.content_type,
      reply: withoutTexts(answer.reply),
      retry_after_s: answer.retry_after_s,
    });
    this.tellOutcome(told, answer);
    let again = told.again;
    const is_taken = told.outcome === "taken";
    const make = (): Change => {
      const arrived = is_taken ? this.arrived(answer) : { edits: [], ids: "", texts: "", groups: [] };
      const refused = Object.values(told.refused)
        .flat()
        .filter(([id]) => day.state.held.has(id));
      const leaving = refused.map(([id]) => id);
      const change = day.changeOf(
        arrived.edits,
        {
          ids: arrived.ids,
          texts: arrived.texts,
          groups: arrived.groups,
          confirmed: Object.values(told.confirmed).flat(),
          wanted: Object.values(told.want)
            .flat()
            .filter((id) => day.state.held.has(id)),
          refused: refused.map((row) => this.refusedLine(row)),
        },
        leaving,
      );
      const exchange = day.exchange as ExchangeRecord;
      const marks = day.marksNow(exchange, arrived.edits, leaving);
      const settled = is_taken
        ? this.settle(told.state, marks, this.unsentAfter(told))
        : { state: told.state, again: false };
      again = told.again || settled.again;
      const clock_ahead_ms =
        is_taken && answer.reply?.now_ms ? now_ms - answer.reply.now_ms : exchange.clock_ahead_ms;
      const heard = is_taken ? told.heard : exchange.heard;
      return {
        ...change,
        exchange: { state: settled.state, marks, heard, clock_ahead_ms, upto: exchange.upto },
      };
    };
    await day.commit(make, "relaxed", "server");
    day.computeIncomplete();
    const voids = Object.values(told.void).flat();
    if (voids.length) this.declareVoid(voids, told);
    // What did not fit waits like an act just made; it is offered as long as the server takes something.
    const is_left = Object.values(told.confirmed).some((ids) => ids.length) && day.state.unsent.size > 0;
    return is_taken && (again || is_left);
  }

  private tellOutcome(told: Told, answer: Answer): void {
    const notices: Notice["code"][] = ["not_reached", "wifi_sign_in", "not_allowed", "server_older"];
    const code = NOTICE_OF[told.outcome];
    this.day.notices.over(...notices.filter((one) => one !== code));
    if (code) this.day.notices.raise(code, told.sentence);
    if (told.outcome === "taken" && (answer.reply?.rules ?? 0) > this.day.kinds.rules) {
      this.day.notices.raise("app_older");
    }
    if (Object.values(told.refused).some((rows) => rows.length)) {
      this.day.notices.raise(
        "refused",
        "The server refused edits of this phone. Their words are kept here: see the list.",
      );
    }
  }

  /** The edits that a reply brought: which are new here, and all of them as a row keeps them. */
  private arrived(answer: Answer): {
    edits: ReadEdit[];
    ids: string;
    texts: string;
    groups: [number, string, number][];
  } {
    const edits: ReadEdit[] = [];
    const ids: string[] = [];
    const texts: string[] = [];
    const groups: [number, string, number][] = [];
    const seen = new Set<string>();
    for (const set in answer.reply?.sets) {
      for (const group of groupsOf(answer.reply, this.day.day, set)) {
        let count = 0;
        for (const text of group.edits) {
          const edit = readText(text, this.day.day) ?? this.judged(text);
          if (!edit || seen.has(edit.id)) continue;
          seen.add(edit.id);
          count++;
          ids.push(edit.id);
          const is_new = !this.day.state.held.has(edit.id);
          texts.push(is_new ? text : "");
          if (is_new) edits.push(edit);
        }
        if (count) groups.push([count, group.carrier, group.received_ms]);
      }
    }
    return { edits, ids: ids.join(" "), texts: texts.join("\n"), groups };
  }

  /** A text that did not read plainly: the rules say what is wrong with it. */
  private judged(text: string): null {
    try {
      const { refused } = this.day.rules.ask<{ refused: [number, string, string][] }>({
        do: "merge",
        day: this.day.day,
        items: [text],
        cells: {},
      });
      this.day.notices.fail("a text of the server", refused[0]?.[1] ?? "read by the rules alone");
    } catch (error) {
      if (!(error instanceof RulesRefused)) throw error;
      this.day.notices.fail("a text of the server", error);
    }
    return null;
  }

  private unsentAfter(told: Told): { [set: string]: number } {
    const done = new Set([...Object.values(told.confirmed).flat(), ...Object.values(told.void).flat()]);
    const unsent: { [set: string]: number } = {};
    for (const id of [...this.day.state.unsent.keys(), ...Object.values(told.want).flat()]) {
      const set = this.day.state.held.setOf(id);
      if (!done.has(id) && set) unsent[set] = (unsent[set] ?? 0) + 1;
    }
    return unsent;
  }

  private refusedLine([id, code, sentence]: [string, string, string]): Refused {
    const text = this.day.state.held.text(id);
    return { id, record: recordOf(text), code, sentence, text };
  }

  /** A refused text is no edit anywhere: its author's phone says that its number will never arrive. */
  private declareVoid(ids: string[], told: Told): void {
    const why = new Map(
      Object.values(told.refused)
        .flat()
        .map(([id, , sentence]) => [id, sentence]),
    );
    const acts = ids
      .filter((id) => !this.day.state.cells.records.has(`void/${id}`))
      .map((id) => ({
        kind: "void",
        record: id,
        set: { why: (why.get(id) ?? "").slice(0, 150) },
        painted: {},
      }));
    this.day.act(acts).catch((error) => this.day.notices.fail("void", error));
  }

  /** Listen to the bell while in sight, in one tab. When it falls silent, the next good round opens it again. */
  private listen(): void {
    if (this.bell || !this.is_visible) return;
    const cancel = this.hidden.signal;
    const { token } = this.day.credential as NonNullable<DayEngine["credential"]>;
    const url = `/api/days/${encodeURIComponent(this.day.day)}/bell`;
    const bell = this.day.tabs
      .withBell(cancel, async () => {
        await listenToBell(url, token, cancel, () => this.soon());
      })
      .catch((error) => this.day.notices.fail("bell", error))
      .finally(() => {
        if (this.bell === bell) this.bell = null;
      });
    this.bell = bell;
  }
}
