// What the rules return of a shot's things: rigs, power, drinks, tape, frame. Made by day/figures.py, rigging.py, power.py,
// drinks.py, tape.py and frame.py; names are theirs. Every text is ready to show.
import type { RecordKey } from "./engine/contract";
import type { Caution, Missing } from "./sheet_types";

/** One worked-out answer. `within` is what the sum says and gives no leave; `unknown` is never a pass. */
export type Figure = {
  label: string;
  state: "plain" | "within" | "over" | "unknown";
  word: string;
  shown: string;
  line: string;
  missing: Missing[];
  caution: Caution | null;
  value: number | null;
};

export type FiguresOf = { record: RecordKey; title: string; figures: Figure[]; caution: Caution | null };

export type Load = { record: RecordKey; title: string; shown: string; burning: boolean };

export type Power = {
  circuits: (FiguresOf & { loads: Load[] })[];
  batteries: FiguresOf[];
  nowhere: Missing[];
};

export type Drink = FiguresOf & {
  cleared: boolean;
  mix: { record: RecordKey; title: string; share: string; amount: string; from: string }[];
  allergens: { record: RecordKey; title: string; words: string }[];
};

export type Tape = {
  jobs: FiguresOf[];
  rolls: { record: RecordKey | ""; title: string; figure: Figure }[];
};

/** The camera at one moment of its move. x to the right, y away, pan turns to the right from y. */
export type CameraAt = {
  at: "start" | "middle" | "end";
  x_m: number;
  y_m: number;
  height_m: number;
  pan_deg: number;
  tilt_deg: number;
  half_angle_ratio: number;
  floor: [number, number];
};

export type ThingWhat = "lamp" | "frame" | "stand" | "dressing" | "mark";

export type FramedThing = {
  record: RecordKey;
  title: string;
  what: ThingWhat;
  /** It is meant to be seen. */
  wanted: boolean;
  state: "in" | "edge" | "out" | "unknown";
  word: string;
  x_m: number;
  y_m: number;
};

export type FrameOfShot = {
  figures: Figure[];
  camera: CameraAt[];
  missing: Missing[];
  things: FramedThing[];
  unplaced: { record: RecordKey; title: string; what: ThingWhat; fields: string[] }[];
  path: {
    floor_m: number;
    moves: boolean;
    in_the_way: { record: RecordKey; title: string; sentence: string }[];
    caution: Caution | null;
  } | null;
  glass: { record: RecordKey; source: RecordKey | ""; title: string; at: string; sentence: string }[];
  glass_missing: Missing[];
};
