// What the rules return of a shot's light beyond its levels: changes, dimmers, softness, colour, ways out, trials.
// Made by day/light.py, since.py, setting.py, softness.py, colour.py, ways.py, what_if.py and solve.py; names are theirs.
import type { ScreenAct } from "./engine/client";
import type { RecordKey } from "./engine/contract";
import type { Caution, Missing, Shown } from "./sheet_types";

/** What a level lost or gained since it was read, or since dressing was ticked. */
export type LevelChange = {
  point: RecordKey;
  role: string;
  title: string;
  stops: Shown | null;
  because: string[];
  of_dressing: Shown | null;
  was_ratio: string;
  now_ratio: string;
  sentence: string;
};

/** Where a source's dimmer meets what is wanted of it, or how short it is at full. */
export type Setting = {
  level: RecordKey;
  source: RecordKey;
  title: string;
  role: string;
  point: RecordKey;
  acts: ScreenAct[];
  missing: Missing[];
  output: Shown | null;
  percent: Shown | null;
  short: Shown | null;
  meets: boolean;
  wanted: { shown: string; stops: number; line: string };
  line: string;
};

export type Softness = {
  level: RecordKey;
  title: string;
  role: string;
  from: string;
  width: { shown: string };
  height: { shown: string };
  penumbra: { shown: string };
  wrap: { shown: string };
  catchlight: { shown: string };
  hard_core: string;
  line: string;
};

export type Bounce = {
  record: RecordKey;
  title: string;
  line: string;
  missing: Missing[];
  caution: Caution | null;
  lifts: string;
  stops: Shown | null;
  lux: Shown | null;
  share: Shown | null;
};

export type Correction = { source: RecordKey; title: string; is_outside: boolean; line: string };

export type Mireds = { low: number; typical: number; high: number };

export type ColourMatch = { shown: string; is_visible: boolean; change: string };

export type ColourOf = {
  title: string;
  kind: "reading" | "range" | "unknown";
  shown: string;
  line: string;
  duv: number | null;
  match: ColourMatch | null;
};

export type SourceColour = ColourOf & {
  level: RecordKey;
  source: RecordKey;
  mired: Mireds | null;
  mired_shown: string;
  tint: string;
  layers: { title: string; shown: string }[];
  missing: Missing[];
};

export type ColourOfShot = {
  reference: { mired: number | null; mired_shown: string; shown: string; missing: Missing[] };
  sources: SourceColour[];
  points: (ColourOf & { point: RecordKey; k: number | null })[];
  threshold: string;
};

/** One way to the level that is wanted, tried on a scratch copy. */
export type Way = {
  way: string;
  title: string;
  gain: { shown: string; stops: number } | null;
  /** null: its limit is not known. */
  is_enough: boolean | null;
  after: Shown | null;
  /** null: not of the kit, or nobody has counted it. */
  on_hand: boolean | null;
  minutes: number;
  costs: string[];
  caution: Caution | null;
  acts: ScreenAct[];
  missing: Missing[];
};

/** Answer to {"do": "ways"}. */
export type Ways = {
  level: RecordKey;
  title: string;
  line: string;
  short: Shown | null;
  acts: ScreenAct[];
  ways: Way[];
  missing: Missing[];
};

/** One answer of {"do": "solve"}: settings, and which of the wishes they hold. */
export type Solution = {
  title: string;
  acts: ScreenAct[];
  holds: { what: string; shown: string; is_held: boolean }[];
  level: string;
  key_to_fill: string;
  softness: string;
  costs: string[];
  caution: Caution | null;
  is_solved: boolean;
};

export type Solved = {
  level: RecordKey;
  title: string;
  solutions: Solution[];
  line: string;
  missing: Missing[];
};
