// What the screens may ask of the engine, and what the engine tells them. Types only: no code runs here.
// The engine lives in a worker (worker.ts); screens speak through client.ts and read day_signals.ts.
// JSON names are those of the rules in Python, so one search finds a name everywhere.

/** Anything an edit may hold. A quantity is [decimal text in SI, as typed]; a tick is false or ["done", [[cell key, value], ...]]. */
export type Value = null | boolean | number | string | Value[];

/** Minutes that a clock is ahead of UTC; or [from [ms since 1970 UTC], minutes] in the order of time, as day/place_clock.py. */
export type Offset = number | [from_ms: number, minutes: number][];

/** "kind/id", for example "shot/12c". */
export type RecordKey = string;

/** One edit that no other has replaced: id, value, claimed wall time, person, for whom, how, version of the rules. */
export type LiveEdit = [
  id: string,
  value: Value,
  at_ms: number,
  by: string,
  for_whom: string,
  how: string,
  rules: number,
];

/** 0 one answer; 1 several edits, nothing to settle; 2 two answers, ask; 3 they differ, the careful one is shown. */
export type CellMark = 0 | 1 | 2 | 3;

/** The state of one field as the rules made it. The edit shown stands first in `live`. Nobody but the rules writes one. */
export type Cell = [mark: CellMark, live: LiveEdit[], gone: string[], absent: string[], off: string[]];

/** The fields of one record that anyone has ever set. */
export type Fields = { [field: string]: Cell };

/** "floor" or "health"; further sets may come. */
export type SetName = string;

export type Presence = "present" | "removed" | "back";

/** A refusal in the words of the rules. `field` is "" when it is about the whole act. */
export type Reason = { field: string; code: string; sentence: string };

/** What the rules computed for one shot, with the version and the place it was computed at. Painted first on the next open. */
export type ShotSummary = {
  shot: string;
  rules: number;
  /** The place up to which the floor set had been read; null before the first exchange. */
  place: number | null;
  computed_ms: number;
  /** What it rests on beside the rules, as one text: equal texts need no new computing. */
  made_for: string;
  /** As day/sheet.py, day/readiness.py and day/work.py return them. */
  sheet: unknown;
  readiness: unknown;
  work: unknown;
};

/** Something the person must know until it is over. `code` is for programs, `sentence` for people. */
export type Notice = {
  code:
    | "nothing_kept" // no working database: all is gone when the app is closed
    | "not_saved" // the phone refused to store an edit (full or broken); it is kept in memory only
    | "storage_lost" // the phone dropped what it had kept; it is being read again from the server
    | "older_tab" // another tab runs another version and must be closed or reloaded
    | "wifi_sign_in" // the network answers in place of the server
    | "not_reached" // the server cannot be reached; edits wait here
    | "not_allowed" // the credential is no longer valid: only sending is paused
    | "server_older" // the server cannot take what this app makes
    | "app_older" // someone on the day uses a newer version
    | "refused" // the server refused edits for good; they are listed in `facts.refused`
    | "rules_failed"; // the rules did not start or broke off; editing is not possible
  sentence: string;
};

/** An edit that the server will never take. The words stay here until the person deals with them. */
export type Refused = { id: string; record: RecordKey; code: string; sentence: string; text: string };

/** The three facts, and what stands behind them. True at any moment, also before the rules are up. */
export type Facts = {
  /** Edits on this phone that the server has not confirmed. */
  unsent: number;
  /** When the oldest of them was made, as this phone's clock said. */
  oldest_unsent_ms: number | null;
  /** Last complete answer of the server, by this phone's clock. */
  heard_ms: number | null;
  /** Last time both sides had exactly the same set of edits. */
  matched_ms: number | null;
  /** Why this copy lacks something; empty when it lacks nothing it knows of. Until then readiness is "unknown". */
  incomplete: { code: string; sentence: string }[];
  /** An exchange is going on in this tab. */
  exchanging: boolean;
  /** "kept": stored, and the phone promised not to drop it; "stored": stored, no promise; "memory": kept nowhere. */
  kept: "kept" | "stored" | "memory";
  /** Bytes that the browser counts for this app, and what it allows. Null where it does not say. */
  bytes: number | null;
  bytes_allowed: number | null;
  /** Acts of this phone, and edits in all. */
  acts: number;
  edits: number;
  /** How many other devices have read past the edit of each open hold: edit id -> number. */
  heard: { [id: string]: number };
  /** This phone's clock minus the server's at the last answer. */
  clock_ahead_ms: number | null;
  refused: Refused[];
  notices: Notice[];
  /** Version of the rules here; null until they are up. */
  rules: number | null;
  /** Shots are still to be computed from what is here: what is shown of them is older. */
  computing: boolean;
};

/** Who this phone is on the day. Everything but `day` is empty for a day that was never joined through a server. */
export type Membership = {
  day: string;
  day_title: string;
  device: string;
  person: string;
  sets: SetName[];
};

/** Answer to open(): all that the first screen needs. Chunks are JSON texts {record key: Fields}; client.ts reads them. */
export type Opened =
  | { state: "nothing"; days: { day: string; day_title: string }[]; facts: Facts }
  | {
      state: "day";
      membership: Membership;
      chunks: string[];
      presence: { [record: RecordKey]: Presence };
      shots: { [shot: string]: ShotSummary };
      facts: Facts;
    };

/** What localStorage keeps beside the database, so that an emptied database is seen as a loss and not as a new phone. */
export type Keepsake = {
  day: string;
  day_title: string;
  edits: number;
  unsent: number;
  membership: Membership;
  token: string;
};

/** One act by one person on one record. */
export type Act = {
  kind: string;
  /** The record's id without its kind. New records: newId(), or the id the rules give to records with two ends. */
  record: string;
  set: { [field: string]: Value };
  /** What the screen showed: for each field the ids of its live edits. */
  painted: { [field: string]: string[] };
  /** Local numbers of this tab's own acts on the same record that are not answered yet. client.ts fills this in. */
  after?: number[];
  /** The local number of this act. client.ts fills this in. */
  local?: number;
  for_whom?: string;
  how?: "" | "paper" | "import" | "demo";
};

export type Saved = { saved: true; id: string };
/** With an `id` the edit is on the day, but in memory only: show it as NOT saved on this phone. Else it was refused. */
export type NotSaved = { saved: false; id?: string; reasons: Reason[] };

export type JoinRequest = {
  code: string;
  name: string;
  role: string;
  departments: string[];
  device_name: string;
  person?: string;
};

type JoinCode = { code: string; link: string };
/** A code for some departments: how many phones it lets in yet, and until when. */
export type Invitation = JoinCode & { uses_left: number; expires_ms: number };
/** A day that was made, and the codes to join it: for who made it, for heads of department, for the crew. */
export type NextDay = { day: string; day_title: string; own: JoinCode; heads: JoinCode; crew: JoinCode };

/** One line of a record's history, oldest first. */
export type HistoryLine = {
  id: string;
  at_ms: number;
  by: string;
  for_whom: string;
  how: string;
  rules: number;
  set: { [field: string]: Value };
  seen: { [field: string]: string[] };
  /** Fields in which this edit is still shown or counts as an answer. */
  live: string[];
  /** The server has it. */
  sent: boolean;
  /** The server's time of arrival and who carried it there, where known. */
  received_ms: number | null;
  carrier: string | null;
  /** Verdicts of the server about this edit: [says, code, sentence]. */
  verdicts: [string, string, string][];
};

/** One edit that the server has not confirmed. */
export type UnsentLine = { id: string; record: RecordKey; at_ms: number; set: { [field: string]: Value } };

/** One edit in words, as day/feed.py tells it. */
export type FeedRow = {
  id: string;
  record: RecordKey;
  title: string;
  who: string;
  at: string;
  did: "" | "added" | "removed" | "back";
  changes: string[];
  more: number;
  for_mine: boolean;
  by_mine: boolean;
  undo: { acts: Act[]; remove: RecordKey; why_not: string };
};

/** What is wrong with a part of a file; place 0 is the whole part, else the edit's place in it from 1. */
export type FileFault = { part: string; place: number; code: string; sentence: string };

/** A day's file as read. `faults` and `is_cut` say what of it is not whole; edits are counted as they are whole. */
export type DayFile = {
  day: string;
  title: string;
  is_cut: boolean;
  faults: FileFault[];
  /** Whole edits that this phone holds already, and that it does not. */
  known: number;
  fresh: number;
  /** JSON text {record key: Fields}: the records of the file, when they were asked for. */
  cells?: string;
};

/** A picture as the page made it, ready to be kept. */
export type NewPicture = { octets: Uint8Array; small: Uint8Array | null };
/** `phone_full`: the phone refused the room, also after all that the server has was dropped. */
export type KeepAnswer = { kept: true; digest: string } | { kept: false; code: "phone_full" | "not_kept" };

/** What is on this phone of a picture. `octets` is a whole picture, full or small; never half of one. */
export type Picture = {
  /** whole: here in full; small: only a small one is; the others say why nothing more is here. */
  state: "whole" | "small" | "fetching" | "not_here" | "no_signal" | "not_allowed" | "damaged" | "phone_full";
  octets: Uint8Array | null;
  is_full: boolean;
  is_sent: boolean;
  is_pinned: boolean;
  /** Why the server will not take it. */
  refused: string;
};

/** All pictures of the day on this phone. */
export type PicturesNow = { unsent: number; held_bytes: number; budget_bytes: number };

/** What the engine says without being asked. */
export type News =
  | {
      news: "records";
      /** JSON text {record key: Fields}, changed fields only. */
      cells: string;
      presence: { [record: RecordKey]: Presence };
      from: "here" | "tab" | "server";
    }
  | { news: "shots"; shots: { [shot: string]: ShotSummary } }
  | { news: "facts"; facts: Facts }
  | { news: "pictures"; now: PicturesNow }
  /** Something about one picture changed: ask again. */
  | { news: "picture"; digest: string }
  | { news: "keepsake"; keepsake: Keepsake }
  | { news: "forgotten"; day: string }
  | { news: "day"; opened: Opened };

/** The worker's side, as comlink exposes it. Every answer is plain data. */
export type Engine = {
  /** Read the stored day. Answers before the rules are up. `day` null opens the one last used. */
  open(day: string | null, keepsakes: Keepsake[]): Promise<Opened>;
  /** Join a day with a code; stores the credential and begins to read. */
  join(
    request: JoinRequest,
  ): Promise<{ joined: true; opened: Opened } | { joined: false; reasons: Reason[] }>;
  /** Store acts, each after the one before, all in one transaction. `saved` means the transaction completed.
   *  With `is_whole` one that is refused refuses all. */
  act(acts: Act[], is_whole?: boolean): Promise<(Saved | NotSaved)[]>;
  /** Take a record off the day, with its parts. It comes back by any edit that this phone has not seen. */
  remove(record: RecordKey, for_whom?: string): Promise<Saved | NotSaved>;
  /** How quantities and times are told in sheets: "metric" or "imperial", and the set's clock ahead of UTC. */
  tellIn(how: { units: string; utc_offset_min: Offset }): Promise<void>;
  /** One shot, recomputed now. */
  shot(shot: string): Promise<ShotSummary | null>;
  history(record: RecordKey): Promise<HistoryLine[]>;
  /** When the server received edits, by its clock; those of which that is not known are left out. */
  arrivals(ids: string[]): Promise<{ [id: string]: number }>;
  /** The newest edits of the day, or of one record, in words, in the order in which they came here. */
  feed(asked: {
    count: number;
    mine: string[];
    units: string;
    utc_offset_min: Offset;
    record?: RecordKey;
  }): Promise<{ rows: FeedRow[]; is_all: boolean }>;
  /** The edits that `facts.unsent` counts, oldest first: the list on 'this phone', and the torn marks of rows. */
  unsent(): Promise<UnsentLine[]>;
  facts(): Promise<Facts>;
  /** Exchange now, whatever the time says. Resolves when the round is over. */
  exchangeNow(): Promise<Facts>;
  /** Any question to the rules that changes nothing: kinds, check, read_typed, ... Answers as phone_door.py does. */
  ask(request: { do: string; [name: string]: unknown }): Promise<RulesAnswer>;
  /** The floor of this day as one file, as `tailslate export` writes it. */
  dayFile(): Promise<string>;
  /** Read a day's file and change nothing: of this day, or with `as_other` of any day, with its records. */
  readDayFile(text: string, as_other?: boolean): Promise<{ read: DayFile } | { refused: Reason }>;
  /** Take a file of this day in: what is here stays once. A damaged file only with `only_whole`. */
  takeDayFile(text: string, only_whole: boolean): Promise<{ taken: DayFile } | { refused: Reason }>;
  /** A document that the server prints: the day pack, or the report. `refused` says why there is none. */
  printed(what: "pack" | "report"): Promise<{ pdf: Blob } | { refused: string }>;
  /** A code by which more phones join this day. */
  invite(asked: { departments: string[]; head: boolean }): Promise<Invitation | { refused: string }>;
  /** The next day, made on the server; asked again with the same `wish` it is the same day with new codes. */
  nextDay(asked: { title: string; like: boolean; wish: string }): Promise<NextDay | { refused: string }>;
  /** Text about this phone for whoever helps: versions, counts, sizes, errors; nothing of what people wrote. */
  report(): Promise<string>;
  /** Keep a picture on this phone, before the edit that names it is made. It is sent after the words. */
  keepPicture(picture: NewPicture): Promise<KeepAnswer>;
  /** A picture as it is here; it is fetched when it is not. `is_again` asks once more after a failure. */
  picture(digest: string, wants_full: boolean, is_again: boolean): Promise<Picture>;
  /** A pinned picture is never dropped to keep the budget. */
  pinPicture(digest: string, is_pinned: boolean): Promise<void>;
  /** How much room full pictures may take on this phone. */
  picturesBudget(bytes: number): Promise<void>;
  /** Drop this day from this phone. `unsent` is facts.unsent + refused + pictures unsent; with another, nothing is. */
  forget(unsent: number): Promise<{ forgotten: boolean; unsent: number }>;
  /** The page came into sight or left it: nothing runs while hidden. */
  visible(is_visible: boolean): Promise<void>;
  /** The network is back, or the window has the focus again: a good moment to exchange. */
  nudge(): Promise<void>;
  /** The page asked the browser to keep the data; look what it answered. */
  keptAsked(): Promise<void>;
};

export type RulesAnswer =
  | ({ ok: true } & { [name: string]: unknown })
  | { ok: false; code: string; sentence: string; facts?: unknown };
