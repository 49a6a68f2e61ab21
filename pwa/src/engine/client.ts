// The page's side of the engine: starts the worker, mirrors what it says into day_signals.ts, hands acts over.
// Knows no rule, no database, no network.
import * as Comlink from "comlink";
import { applyNews, applyOpened, membership, recordNow } from "../day_signals";
import { hearOfPictures } from "../pictures_now";
import type {
  Act,
  Engine,
  Facts,
  HistoryLine,
  JoinRequest,
  KeepAnswer,
  Keepsake,
  NewPicture,
  News,
  NotSaved,
  Offset,
  Opened,
  Picture,
  RecordKey,
  RulesAnswer,
  Saved,
  ShotSummary,
  UnsentLine,
  Value,
} from "./contract";

/** An act as a screen makes it. Without `painted`, what the signals hold now counts as what the screen showed. */
export type ScreenAct = Omit<Act, "painted" | "after" | "local"> & {
  painted?: { [field: string]: string[] };
};

const KEEPSAKES = "tailslate.days";
const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "engine" });
const engine = Comlink.wrap<Engine>(worker);
const broken = new Promise<never>((_resolve, reject) => {
  const fail = (event: ErrorEvent): void => reject(new Error(`the engine did not start: ${event.message}`));
  worker.addEventListener("error", fail, { once: true });
});
broken.catch((error: unknown) => console.error(error));
let acts_made = 0;
/** Own acts not answered yet, by record: their local numbers go along, so that typing 5 then 6 is no conflict with oneself. */
const unanswered = new Map<RecordKey, Set<number>>();

function keepsakes(): Keepsake[] {
  try {
    return JSON.parse(localStorage.getItem(KEEPSAKES) ?? "[]");
  } catch {
    return []; // a browser without localStorage, or a damaged entry: the database alone must do
  }
}

function keep(keepsake: Keepsake): void {
  const others = keepsakes().filter((one) => one.day !== keepsake.day);
  try {
    localStorage.setItem(KEEPSAKES, JSON.stringify([keepsake, ...others]));
  } catch (error) {
    console.warn("localStorage did not take the keepsake", error);
  }
}

function drop(day: string): void {
  try {
    localStorage.setItem(KEEPSAKES, JSON.stringify(keepsakes().filter((one) => one.day !== day)));
  } catch (error) {
    console.warn("localStorage kept the keepsake of a forgotten day", error);
  }
}

function hear(news: News): void {
  if (news.news === "keepsake") keep(news.keepsake);
  else if (news.news === "forgotten") drop(news.day);
  else if (news.news === "pictures" || news.news === "picture") hearOfPictures(news);
  else applyNews(news);
}

/** Start the engine and paint the stored day. Resolves before the rules are up. */
export async function startEngine(day: string | null = null): Promise<Opened> {
  worker.addEventListener(
    "message",
    ({ data }: MessageEvent<{ news?: News }>) => data.news && hear(data.news),
  );
  const opened = await Promise.race([engine.open(day, keepsakes()), broken]);
  applyOpened(opened);
  followSight();
  return opened;
}

/** Tell the engine whether anyone looks: nothing runs while hidden, and all is asked anew when the app comes back. */
function followSight(): void {
  const see = (): void => void engine.visible(document.visibilityState === "visible");
  const nudge = (): void => void engine.nudge();
  document.addEventListener("visibilitychange", see);
  addEventListener("pageshow", (event) => {
    if (!(event as PageTransitionEvent).persisted) return;
    void engine.visible(false); // it slept in the browser's memory: whatever stream there was is dead
    see();
  });
  addEventListener("online", nudge);
  addEventListener("focus", nudge);
  see();
}

let asked_to_keep = false;

/** After the first real edit: ask the browser not to drop what is stored. */
function askToKeep(): void {
  if (asked_to_keep) return;
  asked_to_keep = true;
  navigator.storage?.persist?.().then(
    () => engine.keptAsked(),
    (error: unknown) => console.warn("The browser was not asked to keep the data", error),
  );
}

/** Join a day by its code. The signals hold the day when this resolves. */
export async function join(request: JoinRequest): ReturnType<Engine["join"]> {
  const answer = await engine.join(request);
  if (answer.joined) applyOpened(answer.opened);
  return answer;
}

/** Store acts in one transaction, in their order. Only an answer with `saved: true` may be shown as saved. */
export async function actAll(acts: ScreenAct[], is_whole = false): Promise<(Saved | NotSaved)[]> {
  const numbered = acts.map((act): Act => {
    const key: RecordKey = `${act.kind}/${act.record}`;
    const before = unanswered.get(key) ?? new Set<number>();
    unanswered.set(key, before);
    const local = ++acts_made;
    const after = [...before];
    before.add(local);
    const fields = recordNow(key) ?? {};
    const showing = Object.fromEntries(
      Object.keys(act.set).map((field) => [field, (fields[field]?.[1] ?? []).map(([id]) => id)]),
    );
    return { ...act, painted: act.painted ?? showing, after, local };
  });
  try {
    const answers = await engine.act(numbered, is_whole);
    if (answers.some((answer) => answer.saved)) askToKeep();
    return answers;
  } finally {
    for (const act of numbered) unanswered.get(`${act.kind}/${act.record}`)?.delete(act.local ?? 0);
  }
}

/** Store one act. */
export async function act(one: ScreenAct): Promise<Saved | NotSaved> {
  const [answer] = await actAll([one]);
  return (
    answer ?? {
      saved: false,
      reasons: [{ field: "", code: "no_answer", sentence: "The engine gave no answer. Try again." }],
    }
  );
}

/** A new record's id: 10 random characters. */
export function newId(): string {
  return [...crypto.getRandomValues(new Uint8Array(10))].map((byte) => (byte % 36).toString(36)).join("");
}

/** Take a record off the day, with its parts. */
export const remove = (record: RecordKey, for_whom = ""): Promise<Saved | NotSaved> =>
  engine.remove(record, for_whom);
/** How quantities and times are told in sheets, from now on. */
export const tellIn = (how: { units: string; utc_offset_min: Offset }): Promise<void> => engine.tellIn(how);
/** Number of this build, for 'this phone'. */
export const build: string = __BUILD__;

export const shotNow = (shot: string): Promise<ShotSummary | null> => engine.shot(shot);
export const history = (record: RecordKey): Promise<HistoryLine[]> => engine.history(record);
export const arrivals = (ids: string[]): Promise<{ [id: string]: number }> => engine.arrivals(ids);
export const feed = (asked: Parameters<Engine["feed"]>[0]): ReturnType<Engine["feed"]> => engine.feed(asked);
export const unsent = (): Promise<UnsentLine[]> => engine.unsent();
export const factsNow = (): Promise<Facts> => engine.facts();
export const exchangeNow = (): Promise<Facts> => engine.exchangeNow();
export const ask = (request: { do: string; [name: string]: unknown }): Promise<RulesAnswer> =>
  engine.ask(request);
/** The day as one file, and back; see contract.ts. */
export const dayFile = (): Promise<string> => engine.dayFile();
export const readDayFile = (text: string, as_other = false): ReturnType<Engine["readDayFile"]> =>
  engine.readDayFile(text, as_other);
export const takeDayFile = (text: string, only_whole = false): ReturnType<Engine["takeDayFile"]> =>
  engine.takeDayFile(text, only_whole);
export const printed = (what: "pack" | "report"): ReturnType<Engine["printed"]> => engine.printed(what);
export const keepPicture = (picture: NewPicture): Promise<KeepAnswer> => engine.keepPicture(picture);
export const picture = (digest: string, wants_full: boolean, is_again = false): Promise<Picture> =>
  engine.picture(digest, wants_full, is_again);
export const pinPicture = (digest: string, is_pinned: boolean): Promise<void> =>
  engine.pinPicture(digest, is_pinned);
export const picturesBudget = (bytes: number): Promise<void> => engine.picturesBudget(bytes);
export const invite = (asked: Parameters<Engine["invite"]>[0]): ReturnType<Engine["invite"]> =>
  engine.invite(asked);

export const nextDay = (asked: Parameters<Engine["nextDay"]>[0]): ReturnType<Engine["nextDay"]> =>
  engine.nextDay(asked);

/** The other days that this phone holds. */
export const otherDays = (): { day: string; day_title: string }[] =>
  keepsakes().filter(({ day }) => day !== membership.value?.day);

/** Open another day of this phone: it comes first from now on, and the app starts anew with it. */
export function openOther(day: string): void {
  const wanted = keepsakes().find((one) => one.day === day);
  if (!wanted) return;
  keep(wanted);
  globalThis.history.replaceState(null, "", "/");
  location.reload();
}
export const report = (): Promise<string> => engine.report();
export const forget = (unsent: number): Promise<{ forgotten: boolean; unsent: number }> =>
  engine.forget(unsent);
/** What a person would be refused for, in the words of the server, before anything is stored. */
export const check = (kind: string, set: { [field: string]: Value }): Promise<RulesAnswer> =>
  engine.ask({ do: "check", kind, set });
