// What the rules return for a shot, the board, a list and the day. Made by day/sheet.py, day/readiness.py and phone_door.py;
// names are theirs. Every sentence is ready to show: screens choose where it stands, never what it says.
import type { Presence, RecordKey, Reason as Refusal, Value } from "./engine/contract";
import type {
  Bounce,
  ColourOfShot,
  Correction,
  LevelChange,
  Setting,
  Softness,
} from "./sheet_types_of_light";
import type { Drink, FiguresOf, FrameOfShot, Power, Tape } from "./sheet_types_of_things";

/** The warning that stands beside a number. It ends with who decides. */
export type Caution = { code: string; sentence: string };

export type RowState = "open" | "done" | "again" | "two" | "off";

/** One thing that can be ticked. */
export type Row = {
  record: RecordKey;
  field: string;
  title: string;
  second: string;
  department: string;
  must: boolean;
  state: RowState;
  amount: string;
  unit: string;
  /** Stands beside the mark: "done", "again", "two", "no longer asked". */
  word: string;
  /** Why it asks again. */
  changes: string[];
  by: string;
  at_ms: number;
  for_whom: string;
  how: string;
  value_if_ticked: Value;
  painted: { [field: string]: string[] };
  caution: Caution | null;
  order: number;
  /** The stand, glass or dressing that it is on, "" for a task. */
  group: string;
  /** The stand, glass or circuit under which it may be folded. */
  fold: { key: string; title: string } | null;
  /** Too many rows are open: it stands in its fold, or in "More" when it has none. */
  is_folded: boolean;
};

export type Reason = {
  code: string;
  sentence: string;
  department: string;
  record: RecordKey | "";
  field: string;
  /** Absent in an answer that an older version stored. */
  caution?: Caution | null;
};

export type DepartmentState = {
  state: "done" | "left" | "again" | "two" | "none" | "hold";
  count: number;
  word: string;
};

export type Readiness = {
  state: "ready" | "not_ready" | "unknown" | "done";
  word: string;
  sentence: string;
  reasons: Reason[];
  departments: { [department: string]: DepartmentState };
  as_of_ms: number;
};

export type Shown = { shown: string; low?: number; high?: number };

export type Missing = { record: RecordKey; field: string; sentence: string };

/** The light at one point: a reading (plain), a range (in a bracket), or not known. */
export type Level = {
  point: RecordKey;
  title: string;
  role: string;
  kind: "reading" | "range" | "unknown";
  stops: Shown | null;
  lux: Shown | null;
  footcandles: Shown | null;
  line: string;
  fresh: boolean;
  missing: Missing[];
  changed: string[];
  caution: Caution | null;
  from_key?: Shown | null;
};

export type Stage = {
  title: string;
  loss: Shown | null;
  level_low_stops: number | null;
  level_high_stops: number | null;
};

export type Ladder = {
  source: RecordKey;
  title: string;
  role: string;
  stages: Stage[];
  reading_stops: number | null;
};

export type Fact = { label: string; shown: string; field: string; record?: RecordKey };

/** A glass, a piece of dressing, a rig: its facts, then what can be ticked on it. */
export type Thing = {
  record: RecordKey;
  title: string;
  facts: Fact[];
  rows: Row[];
  caution: Caution | null;
};

export type Hold = {
  record: RecordKey;
  why: string;
  type: string;
  raised_by: string;
  department: string;
  at_ms: number;
  cleared: boolean;
  /** A clearing that waits for the server's word. */
  waiting: boolean;
  again: string[];
  /** The edits that raise it: `facts.heard` says how many others have read past them. */
  ids: string[];
  painted: { [field: string]: string[] };
  value_if_cleared: Value;
  line: string;
  whole_day: boolean;
  /** Record key of what it is on, "" when on nothing. */
  on: string;
  shot: string;
  /** Of what it is on. */
  caution: Caution | null;
};

export type CrewRequest = {
  record: RecordKey;
  ask: string;
  from: string;
  to: string;
  place: string;
  must: string;
  answer: string;
  at_ms: number;
  painted: { [field: string]: string[] };
  /** Id of the shot, "" for the whole day. */
  shot: string;
  /** Who answered and when, "" while nobody has. */
  answered: string;
};

export type Answer = {
  id: string;
  value: Value;
  shown: string;
  by: string;
  department: string;
  at_ms: number;
  how: string;
};

export type TwoAnswers = {
  record: RecordKey;
  field: string;
  label: string;
  rule: "ask" | "careful";
  answers: Answer[];
  sentence: string;
  waiting: string[];
  caution?: Caution | null;
};

export type Target = {
  t_stop?: Value;
  exposure_index?: Value;
  lux?: Shown | null;
  sentence: string;
};

export type Sheet = {
  shot: { record: RecordKey; number: string; title: string; phase: string; target: Target | null };
  setup: Fact[];
  light: {
    levels: Level[];
    key_to_fill: { kind: Level["kind"]; shown: string; line: string; was?: string } | null;
    ladders: Ladder[];
    // A sheet that was stored by an older version lacks what follows, until it is worked out again.
    spread?: (Shown & { line: string }) | null;
    bounces?: Bounce[];
    corrections?: Correction[];
    changes?: LevelChange[];
    settings?: Setting[];
    softness?: Softness[];
    colour?: ColourOfShot;
  };
  rigging?: FiguresOf[];
  power?: Power;
  drinks?: Drink[];
  tape?: Tape;
  kit?: FiguresOf[];
  frame?: FrameOfShot;
  rows: { tasks: Row[]; glasses: Thing[]; dressing: Thing[]; marks: Row[]; rigs: Thing[]; circuits: Thing[] };
  holds: Hold[];
  requests: CrewRequest[];
  two_answers: TwoAnswers[];
  reads: RecordKey[];
  incomplete: string[];
};

/** What a department said of a shot itself, as it stands now. */
export type OwnWord = {
  record: RecordKey;
  department: string;
  said: "ready" | "more" | "stuck";
  minutes: number | null;
  at_ms: number;
  stands: boolean;
  shown: string;
};

/** When a shot will be ready, as day/forecast.py tells it: a range with odds, or why nobody can say. */
export type Forecast = {
  shot: string;
  number: string;
  phase: string;
  is_open: boolean;
  when: { low_ms: number; likely_ms: number; high_ms: number; shown: string } | null;
  odds: { by_ms: number; shown: string } | null;
  why_none: string;
  plan: string;
  planned_ms: number | null;
  first: { record: RecordKey; title: string; department: string; minutes_won: number }[];
  words: OwnWord[];
  minutes_won: number | null;
};

/** Answer to {"do": "forecast"}: each shot in the order asked, and the hours of the day. */
export type DayForecast = {
  shots: Forecast[];
  minutes_won: number | null;
  wrap: { at_ms: number; odds: string | null; shown: string; over: string[] } | null;
  end: { low_ms: number; high_ms: number; shown: string } | null;
  /** `field`: of the day, what to fill in to know more; "" for none. */
  hours: {
    what: string;
    state: "within" | "over" | "unknown";
    shown: string;
    field: string;
    caution: Caution | null;
  }[];
  meal: number[] | null;
};

/** Answer to {"do": "board"}. */
export type Board = {
  rows: {
    shot: string;
    state: string;
    word: string;
    sentence: string;
    departments: { [department: string]: DepartmentState };
    words: OwnWord[];
  }[];
  departments: { name: string; label: string; short: string; age: string; old: boolean }[];
  /** The age from which knowledge is old on this day. */
  old_ms: number;
};

/** Answer to {"do": "day"}. */
export type DaySheet = {
  day: {
    record: RecordKey;
    title: string;
    place: string;
    date: string;
    call: string;
    wrap: string;
    scenes: { record: RecordKey; number: string; title: string }[];
  };
  people: { [person: string]: { name: string; role: string; departments: string[] } };
  holds: Hold[];
  requests: CrewRequest[];
  /** What a forecast needs of the day: passed back to the rules as it is. */
  work: unknown;
};

/** Answer to {"do": "list"}: one department's rows over the shots in order. */
export type ListGroup = {
  shot: string;
  number: string;
  title: string;
  rows: Row[];
  folds: { key: string; title: string }[];
};

/** The table that forms are made from: {"do": "kinds"}. */
export type FieldRow = {
  name: string;
  type: string;
  label: string;
  rule: "plain" | "ask" | "careful";
  unit: string;
  imperial?: string;
  low: number | null;
  high: number | null;
  kind: string;
  choices: string[];
  reserved: string[];
};

export type KindRow = {
  name: string;
  label: string;
  set: string;
  part_of: string;
  departments: string[];
  ends: string[];
  reserved: string[];
  fields: FieldRow[];
};

export type DepartmentRow = { name: string; label: string; short: string };
export type KindsTable = { rules: number; kinds: KindRow[]; departments: DepartmentRow[] };

export type { Presence, Refusal };
