// Where things lie on the set's floor, read from the records: x to the right of the origin, y away, in metres. What nobody
// placed is listed, never guessed.
import { gather, idOf, kindOf, titleOf } from "../day_reads";
import { shown } from "../day_signals";
import type { Fields, RecordKey } from "../engine/contract";
import type { CameraAt, FrameOfShot } from "../sheet_types_of_things";

export type Spot = { x_m: number; y_m: number };
export type PlacedWhat = "lamp" | "frame" | "stand" | "dressing" | "mark" | "point";
export type Placed = Spot & {
  record: RecordKey;
  title: string;
  what: PlacedWhat;
  /** As people wrote it, for the rows below the drawing. */
  written: [x: string, y: string];
  width_m: number | null;
  depth_m: number | null;
  is_over: boolean;
};
export type Beam = { key: string; is_burning: boolean; from: Spot; through: Spot[]; to: Spot | null };
export type Plan = {
  placed: Placed[];
  unplaced: { record: RecordKey; title: string; what: PlacedWhat; field: string }[];
  beams: Beam[];
  cameras: CameraAt[];
};

type Records = { [key: RecordKey]: Fields };

const WHAT: { [kind: string]: PlacedWhat } = {
  source: "lamp",
  layer: "frame",
  rig: "stand",
  dressing: "dressing",
  mark: "mark",
  point: "point",
};

const textAt = (records: Records, key: RecordKey, field: string): string => {
  const value = shown(records[key]?.[field]);
  return typeof value === "string" ? value : "";
};

/** A quantity is [decimal text in SI, as typed]. */
export function metres(records: Records, key: RecordKey, field: string): number | null {
  const value = shown(records[key]?.[field]);
  const figure = Array.isArray(value) ? Number(value[0]) : Number.NaN;
  return Number.isFinite(figure) ? figure : null;
}

const writtenAt = (records: Records, key: RecordKey, field: string): string => {
  const value = shown(records[key]?.[field]);
  return Array.isArray(value) ? String(value[1] || value[0]) : "";
};

const spotOf = (records: Records, key: RecordKey): Spot | null => {
  const [x_m, y_m] = [metres(records, key, "x_m"), metres(records, key, "y_m")];
  return x_m === null || y_m === null ? null : { x_m, y_m };
};

/** Records that lie on this scene's floor: of the scene itself, or part of a source of it. */
function onTheFloor(records: Records, scene: string, shot: string): RecordKey[] {
  const sources = new Set(
    Object.keys(records).filter((key) => kindOf(key) === "source" && textAt(records, key, "scene") === scene),
  );
  const of_source = (key: RecordKey) => sources.has(`source/${textAt(records, key, "source")}`);
  return Object.keys(records).filter((key) => {
    const kind = kindOf(key);
    if (kind === "layer") return of_source(key) && !isInTheLamp(records, key);
    if (kind === "rig") return of_source(key) || textAt(records, key, "scene") === scene;
    if (kind === "mark") return shot !== "" && textAt(records, key, "shot") === shot;
    return kind in WHAT && textAt(records, key, "scene") === scene;
  });
}

/** A gel without a frame of its own sits in the lamp's. */
const isInTheLamp = (records: Records, key: RecordKey): boolean =>
  textAt(records, key, "type") === "gel" && metres(records, key, "width_m") === null;

/** From each placed lamp through its placed frames to what it is aimed at in this shot, where that has a place. */
function beamsOf(records: Records, scene: string, shot: string): Beam[] {
  const keys = Object.keys(records);
  return keys.flatMap((source): Beam[] => {
    const from =
      kindOf(source) === "source" && textAt(records, source, "scene") === scene && spotOf(records, source);
    if (!from) return [];
    const order = (key: RecordKey) => Number(shown(records[key]?.order) ?? 0);
    const through = keys
      .filter((key) => kindOf(key) === "layer" && textAt(records, key, "source") === idOf(source))
      .sort((a, b) => order(a) - order(b))
      .flatMap((key) => spotOf(records, key) ?? []);
    const level = keys.find(
      (key) =>
        kindOf(key) === "level" &&
        textAt(records, key, "source") === idOf(source) &&
        textAt(records, key, "shot") === shot,
    );
    const point = level ? textAt(records, level, "point") : "";
    const is_burning = level !== undefined && textAt(records, level, "on") !== "no";
    return [{ key: source, is_burning, from, through, to: point ? spotOf(records, `point/${point}`) : null }];
  });
}

export function planOf(scene: string, shot: string, frame: FrameOfShot | undefined): Plan {
  const records = gather([...Object.keys(WHAT), "level"]);
  const plan: Plan = {
    placed: [],
    unplaced: [],
    beams: beamsOf(records, scene, shot),
    cameras: frame?.camera ?? [],
  };
  for (const key of onTheFloor(records, scene, shot)) {
    const what = WHAT[kindOf(key)] ?? "point";
    const spot = spotOf(records, key);
    const title = titleOf(key);
    if (!spot) {
      const field = metres(records, key, "x_m") === null ? "x_m" : "y_m";
      plan.unplaced.push({ record: key, title, what, field });
      continue;
    }
    plan.placed.push({
      ...spot,
      record: key,
      title,
      what,
      written: [writtenAt(records, key, "x_m"), writtenAt(records, key, "y_m")],
      width_m: metres(records, key, "width_m"),
      depth_m: metres(records, key, "depth_m"),
      is_over: textAt(records, key, "overhead") === "yes",
    });
  }
  return plan;
}
