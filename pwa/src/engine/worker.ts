// Start reading the engine here: what contract.ts promises the screens, answered by the parts beside this file.
// The stored day is read and handed over first; only then are the rules started.
import * as Comlink from "comlink";
import { deleteDB } from "idb";
import type {
  Act,
  DayFile,
  Engine,
  Facts,
  FeedRow,
  HistoryLine,
  Invitation,
  JoinRequest,
  KeepAnswer,
  Keepsake,
  NewPicture,
  News,
  NextDay,
  NotSaved,
  Opened,
  Picture,
  Reason,
  RecordKey,
  RulesAnswer,
  Saved,
  ShotSummary,
  UnsentLine,
} from "./contract";
import { type Credential, DayEngine } from "./day_engine";
import { carry } from "./exchange";
import { ExchangeRounds } from "./exchange_round";
import { type FeedAsked, feedOf } from "./feed";
import { historyOf, unsentLines } from "./history";
import { Photographs } from "./photographs";
import { dropPhotographs } from "./photographs_store";
import { reportOf } from "./report";
import { type Rules, RulesRefused } from "./rules";
import { type HowTold, Shots } from "./shots";
import { databaseName, isDead } from "./store";

/** News goes the way of the answers, so that a change is told before the act that made it is answered. */
const tell = (news: News): void => postMessage({ news });

/** One day, with what runs beside it. */
type Open = { day: DayEngine; rounds: ExchangeRounds; photographs: Photographs; shots: Shots | null };

let rules: Promise<Rules> | null = null;
let open: Open | null = null;
let how_told: HowTold = { units: "metric", utc_offset_min: 0 };
let is_visible = true;

// A transaction that the phone breaks off fails once for who asked, who says so, and once for nobody.
addEventListener("unhandledrejection", (event) => {
  if (!isDead(event.reason)) return;
  event.preventDefault();
  open?.day.notices.fail("broken off", event.reason);
});

function rulesStarted(): Promise<Rules> {
  rules ??= import("./rules_in_micropython").then(({ startRules }) => startRules());
  return rules;
}

function start(day_id: string): Open {
  const day = new DayEngine(day_id, tell);
  const rounds = new ExchangeRounds(day, () => made.shots?.openHolds() ?? []);
  const photographs = new Photographs(day, tell);
  rounds.onRound = () => photographs.sendSoon(0);
  const made: Open = { day, rounds, photographs, shots: null };
  day.onTabNews = (news) => {
    if (news.told === "forgotten") void leave(made);
  };
  return made;
}

/** What comes after the first paint: the rules, shots, a probe of the storage, the exchange. */
async function begin(opened: Open, stored: ShotSummary[]): Promise<void> {
  const { day, rounds } = opened;
  await day.load(rulesStarted());
  await day.probe();
  await day.ready;
  const shots = new Shots(day, how_told, (summaries) => publish(day, summaries));
  opened.shots = shots;
  day.onChange = (touched, from) => {
    shots.touched(touched);
    if (from === "here") rounds.soon();
  };
  day.onIncomplete = () => shots.completenessChanged();
  shots.show(is_visible);
  shots.begin(stored);
  rounds.show(is_visible);
  await opened.photographs.tellNow();
}

function publish(day: DayEngine, summaries: ShotSummary[]): void {
  tell({ news: "shots", shots: Object.fromEntries(summaries.map((one) => [one.shot, one])) });
  const texts = summaries.map((one): [string, string] => [one.shot, JSON.stringify(one)]);
  day.store.putShots(texts).catch((error) => day.notices.fail("shots", error));
}

function beginSoon(opened: Open, answer: Opened): void {
  const stored = answer.state === "day" ? Object.values(answer.shots) : [];
  // After the answer has left for the page, so that nothing stands before the first paint.
  setTimeout(() => {
    begin(opened, stored).catch((error) => opened.day.notices.fail("start", error));
  });
}

async function leave(left: Open): Promise<void> {
  left.rounds.close();
  left.photographs.close();
  left.day.close();
  if (open === left) open = null;
  tell({ news: "forgotten", day: left.day.day });
  tell({ news: "day", opened: nothing([]) });
}

const nothing = (days: { day: string; day_title: string }[]): Opened => ({
  state: "nothing",
  days,
  facts: NO_FACTS,
});

/** A day of many shots takes the server a while to lay out. */
const PRINT_MS = 60_000;

const NO_FACTS: Facts = {
  unsent: 0,
  oldest_unsent_ms: null,
  heard_ms: null,
  matched_ms: null,
  incomplete: [],
  exchanging: false,
  kept: "stored",
  bytes: null,
  bytes_allowed: null,
  acts: 0,
  edits: 0,
  heard: {},
  clock_ahead_ms: null,
  refused: [],
  notices: [],
  rules: null,
  computing: false,
};

/** A day that is stored though no keepsake names it. */
async function storedDay(): Promise<string | null> {
  const found = await indexedDB.databases?.().catch(() => []);
  const start_of_name = databaseName("");
  return (
    found?.find(({ name }) => name?.startsWith(start_of_name))?.name?.slice(start_of_name.length) ?? null
  );
}

const opened = (): Open => {
  if (!open) throw new Error("no day is open; join one first");
  return open;
};

const engine: Engine = {
  async open(day_id: string | null, keepsakes: Keepsake[]): Promise<Opened> {
    const wanted = day_id ?? keepsakes[0]?.day ?? (await storedDay());
    if (wanted) {
      const made = start(wanted);
      const answer = await made.day.open(keepsakes.find((one) => one.day === wanted) ?? null, null);
      if (answer) {
        open = made;
        beginSoon(made, answer);
        return answer;
      }
      made.day.close();
    }
    setTimeout(() => void rulesStarted().catch(() => undefined)); // a failure shows when a day is opened
    return nothing(keepsakes.map(({ day, day_title }) => ({ day, day_title })));
  },

  async join(
    request: JoinRequest,
  ): Promise<{ joined: true; opened: Opened } | { joined: false; reasons: Reason[] }> {
    const { status, reply } = await carry("/api/join", "", request, new AbortController().signal);
    const body = reply as unknown as Joined | null;
    if (status !== 201 || !body?.token || !body.day)
      return { joined: false, reasons: reasonsOf(status, body) };
    const { day, day_title, device, person, sets, token } = body;
    const credential: Credential = { membership: { day, day_title, device, person, sets }, token };
    if (open) {
      open.rounds.close();
      open.photographs.close();
      open.day.close();
    }
    const made = start(day);
    const answer = (await made.day.open(null, credential)) as Opened;
    open = made;
    made.day.tellKeepsake();
    beginSoon(made, answer);
    return { joined: true, opened: answer };
  },

  async act(acts: Act[], is_whole = false): Promise<(Saved | NotSaved)[]> {
    return opened().day.act(acts, is_whole);
  },

  async remove(record: RecordKey, for_whom = ""): Promise<Saved | NotSaved> {
    return opened().day.remove(record, for_whom);
  },

  async tellIn(how: HowTold): Promise<void> {
    how_told = how;
    open?.shots?.tellIn(how);
  },

  async shot(shot: string): Promise<ShotSummary | null> {
    const { day, shots } = opened();
    await day.ready;
    return day.inQueue(async () => {
      const summary = shots?.compute(shot) ?? null;
      if (summary) publish(day, [summary]);
      return summary;
    });
  },

  async history(record: RecordKey): Promise<HistoryLine[]> {
    const { day } = opened();
    await day.ready;
    return historyOf(day.state, record);
  },

  async arrivals(ids: string[]): Promise<{ [id: string]: number }> {
    const { day } = opened();
    await day.ready;
    return Object.fromEntries(
      ids.flatMap((id) => {
        const arrival = day.state.held.arrival(id);
        return arrival ? [[id, arrival.received_ms]] : [];
      }),
    );
  },

  async feed(asked: FeedAsked): Promise<{ rows: FeedRow[]; is_all: boolean }> {
    const { day } = opened();
    await day.ready;
    return feedOf(day.rules, day.kinds, day.state, asked);
  },

  async unsent(): Promise<UnsentLine[]> {
    const { day } = opened();
    await day.ready;
    return unsentLines(day.state);
  },

  async facts(): Promise<Facts> {
    return open ? open.day.facts() : NO_FACTS;
  },

  async exchangeNow(): Promise<Facts> {
    const { day, rounds } = opened();
    await rounds.run("asked");
    return day.facts();
  },

  async ask(request: { do: string; [name: string]: unknown }): Promise<RulesAnswer> {
    const started = await rulesStarted();
    try {
      return { ...started.ask<{ [name: string]: unknown }>(request), ok: true };
    } catch (error) {
      if (error instanceof RulesRefused)
        return { ok: false, code: error.code, sentence: error.sentence, facts: error.facts };
      open?.day.notices.fail(`ask ${request.do}`, error);
      throw error;
    }
  },

  async dayFile(): Promise<string> {
    return opened().day.file();
  },

  async readDayFile(text: string, as_other = false): Promise<{ read: DayFile } | { refused: Reason }> {
    const { day } = opened();
    return refusable(async () => ({ read: await day.readFile(text, as_other ? { day: "" } : {}) }));
  },

  async takeDayFile(text: string, only_whole: boolean): Promise<{ taken: DayFile } | { refused: Reason }> {
    const { day, rounds } = opened();
    const answer = await refusable(async () => ({
      taken: await day.readFile(text, { take: true, only_whole }),
    }));
    rounds.soon();
    return answer;
  },

  async printed(what: "pack" | "report"): Promise<{ pdf: Blob } | { refused: string }> {
    const { membership, token } = opened().day.credential as Credential;
    const url = `/api/days/${membership.day}/${what}.pdf`;
    const headers = { Authorization: `Bearer ${token}` };
    try {
      const response = await fetch(url, {
        headers,
        cache: "no-store",
        signal: AbortSignal.timeout(PRINT_MS),
      });
      const is_pdf = response.headers.get("Content-Type") === "application/pdf";
      if (response.ok && is_pdf) return { pdf: await response.blob() };
      const body: Joined | null = await response.json().catch(() => null); // a sign-in page is no answer
      return { refused: body?.error?.sentence ?? `the server answered ${response.status}` };
    } catch {
      return { refused: "the server was not reached" };
    }
  },

  async nextDay(asked: {
    title: string;
    like: boolean;
    wish: string;
  }): Promise<NextDay | { refused: string }> {
    return madeByServer<NextDay>("next", asked);
  },

  async invite(asked: { departments: string[]; head: boolean }): Promise<Invitation | { refused: string }> {
    return madeByServer<Invitation>("invitations", asked);
  },

  async report(): Promise<string> {
    return open ? reportOf(open.day) : "No day is open on this phone.";
  },

  async keepPicture(picture: NewPicture): Promise<KeepAnswer> {
    return opened().photographs.keep(picture);
  },
  async picture(digest: string, wants_full: boolean, is_again: boolean): Promise<Picture> {
    return opened().photographs.picture(digest, wants_full, is_again);
  },
  async pinPicture(digest: string, is_pinned: boolean): Promise<void> {
    await opened().photographs.pin(digest, is_pinned);
  },
  async picturesBudget(bytes: number): Promise<void> {
    await opened().photographs.setBudget(bytes);
  },

  async forget(unsent: number): Promise<{ forgotten: boolean; unsent: number }> {
    const left = opened();
    const { state } = left.day;
    const { unsent: pictures } = await left.photographs.tellNow();
    const counted = state.unsent.size + state.refused.length + pictures;
    if (counted !== unsent) return { forgotten: false, unsent: counted };
    left.day.tabs.tell({ told: "forgotten" });
    await leave(left);
    await deleteDB(databaseName(left.day.day));
    await dropPhotographs(left.day.day);
    return { forgotten: true, unsent: 0 };
  },

  async visible(now_visible: boolean): Promise<void> {
    is_visible = now_visible;
    open?.shots?.show(now_visible);
    open?.rounds.show(now_visible);
  },

  async nudge(): Promise<void> {
    open?.rounds.soon("asked");
  },

  async keptAsked(): Promise<void> {
    await open?.day.measureStorage();
  },
};

/** Ask the server for something of this day that only it can make. */
async function madeByServer<Made extends object>(
  what: string,
  asked: object,
): Promise<Made | { refused: string }> {
  const { membership, token } = opened().day.credential as Credential;
  const url = `/api/days/${membership.day}/${what}`;
  const { status, reply } = await carry(url, token, asked, new AbortController().signal);
  if (status === 201 && reply) return reply as unknown as Made;
  const sentence = (reply as unknown as Joined | null)?.error?.sentence;
  return { refused: sentence ?? (status ? `the server answered ${status}` : "the server was not reached") };
}

/** Do something that the rules may refuse: the refusal is an answer. */
async function refusable<Answer>(work: () => Promise<Answer>): Promise<Answer | { refused: Reason }> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof RulesRefused)) throw error;
    return { refused: { field: "", code: error.code, sentence: error.sentence } };
  }
}

type Joined = Credential["membership"] & {
  token: string;
  error?: { code: string; sentence: string; fields?: { [field: string]: string[] } };
};

function reasonsOf(status: number, body: Joined | null): Reason[] {
  const error = body?.error;
  const fields = Object.entries(error?.fields ?? {});
  if (fields.length)
    return fields.map(([field, sentences]) => ({
      field,
      code: error?.code ?? "",
      sentence: [sentences].flat().join(" "),
    }));
  if (error) return [{ field: "", code: error.code, sentence: error.sentence }];
  if (status === 0)
    return [
      {
        field: "",
        code: "not_reached",
        sentence: "The server did not answer. Joining needs a signal: try again where there is one.",
      },
    ];
  return [
    {
      field: "",
      code: "wifi_sign_in",
      sentence: "Something else than the server answered. This network may want you to sign in first.",
    },
  ];
}

Comlink.expose(engine);
