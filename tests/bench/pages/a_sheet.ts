// The records of one shot for row G: 8 sources with 3 layers each, on stands, on one circuit, with dressing, drinks, tasks,
// readings and ticks as on a real day. As cells, every one replaced twice: what is gone lies beside what is shown.
import type { Cell, Fields, RecordKey, Value } from "../../../pwa/src/engine/contract";

const AT_MS = 1_764_054_000_000;
const SOURCES = 8;
const LAYERS = 3;
const TASKS = 30;
let number = 0;

const id = (): string => `bench00001.${++number}.${"abcdefghijklmnop".slice(0, 16)}`;
const of = (figure: number | string, unit: string): Value => [String(figure), `${figure} ${unit}`];
const cell = (value: Value): Cell => [
  0,
  [[id(), value, AT_MS + number * 1000, `p-${number % 8}`, "", "", 1]],
  [id(), id()],
  [],
  [],
];
export const fields = (set: { [field: string]: Value }): Fields =>
  Object.fromEntries(Object.entries(set).map(([field, value]) => [field, cell(value)]));

/** The cell of a distance [m] that someone typed a moment ago. */
export const distance = (m: string): Fields => fields({ distance_m: of(m, "m") });

export function sheetRecords(shot: string): { [record: RecordKey]: Fields } {
  const made: { [record: RecordKey]: { [field: string]: Value } } = {
    "scene/12": {
      number: "12",
      title: "Saloon",
      inside: "interior",
      real_glass: "yes",
    },
    "setup/a": {
      title: "Wide",
      scene: "12",
      lens_mm: of(35, "mm"),
      x_m: of(0, "m"),
      y_m: of(-3, "m"),
      camera_height_m: of("1.4", "m"),
      camera_distance_m: of(3, "m"),
    },
    "point/face": {
      title: "the face",
      scene: "12",
      type: "face",
      height_m: of("1.25", "m"),
      x_m: of(0, "m"),
      y_m: of(0, "m"),
    },
    "point/table": {
      title: "the table",
      scene: "12",
      type: "table",
      height_m: of("0.75", "m"),
    },
    "point/wall": {
      title: "the wall",
      scene: "12",
      type: "background",
      height_m: of("1.5", "m"),
    },
    "circuit/ring": {
      title: "Ring",
      breaker_a: of(32, "A"),
      voltage_v: of(230, "V"),
      mapped: "yes",
      residual_current_protected: "yes",
      cable_length_m: of(18, "m"),
      cable_size: "2.5 mm2",
    },
    [`shot/${shot}`]: {
      number: shot,
      title: "Wide",
      scene: "12",
      setup: "a",
      phase: "setting",
      t_stop: of("2.8", "T"),
      exposure_index: 800,
      frame_rate_per_s: of(24, "fps"),
      shutter_angle_deg: of(180, "deg"),
      calibration_constant: of(250, "C"),
      wanted_ratio: of(4, ": 1"),
      reference_colour_k: of(3200, "K"),
    },
  };
  for (let person = 0; person < 8; person++)
    made[`person/p-${person}`] = {
      name: `P ${person}`,
      role: `Role ${person}`,
      departments: ["grip", "electric", "camera", "art"].slice(person % 4, (person % 4) + 1),
    };
  for (let place = 0; place < SOURCES; place++) {
    const source = `s${place}`;
    const role = ["key", "fill", "back", "background"][Math.min(place, 3)] as string;
    const point = place < 3 ? "face" : place < 6 ? "wall" : "table";
    made[`source/${source}`] = {
      title: `Lamp ${place}`,
      scene: "12",
      lamp: "LED panel",
      intensity_low_cd: of(9000, "cd"),
      intensity_cd: of(10000, "cd"),
      intensity_high_cd: of(11000, "cd"),
      beam_deg: of(90, "deg"),
      input_w: of(200, "W"),
      colour_k: of(3200, "K"),
      overhead: "no",
      circuit: "ring",
      order: place,
      height_m: of(2, "m"),
      x_m: of(place, "m"),
      y_m: of(2, "m"),
      face_width_m: of("0.6", "m"),
      face_height_m: of("0.6", "m"),
    };
    made[`level/${source}~${shot}`] = {
      source,
      shot,
      on: "yes",
      role,
      point,
      distance_m: of("2.5", "m"),
      output_ratio: of("0.6", ""),
    };
    made[`rig/r${place}`] = {
      title: `Stand ${place}`,
      source,
      load_kg: of(6, "kg"),
      offset_m: of("0.4", "m"),
      stand_kg: of(8, "kg"),
      legs: 3,
      leg_radius_m: of("0.55", "m"),
      bag_kg: of(7, "kg"),
      overhead: "no",
      x_m: of(place, "m"),
      y_m: of(2, "m"),
    };
    for (let order = 0; order < LAYERS; order++)
      made[`layer/${source}-${order}`] = {
        title: ["Grid cloth", "Muslin", "Louvre"][order] as string,
        source,
        type: order === 2 ? "louvre" : "diffusion",
        order,
        gap_m: of(order ? "0.3" : "1", "m"),
        width_m: of("1.22", "m"),
        height_m: of("1.22", "m"),
        transmittance_low_ratio: of("0.35", ""),
        transmittance_ratio: of("0.42", ""),
        transmittance_high_ratio: of("0.5", ""),
        direct_ratio: of("0.02", ""),
        reflectance_ratio: of("0.45", ""),
        depth_to_width_ratio: of(1, ""),
      };
  }
  for (let place = 0; place < 6; place++) {
    made[`dressing/d${place}`] = {
      title: `Dressing ${place}`,
      scene: "12",
      place: "table",
      material: "paper",
      reflectance_ratio: of("0.6", ""),
      width_m: of("0.9", "m"),
      depth_m: of("0.7", "m"),
      base_height_m: of("0.75", "m"),
      flame_retardant: "unknown",
      order: place,
      x_m: of(0, "m"),
      y_m: of(1, "m"),
    };
    made[`serves/d${place}~${shot}`] = {
      dressing: `d${place}`,
      shot,
      use: place ? "seen" : "bounce",
      point: "face",
      near_m: of("0.2", "m"),
    };
  }
  for (let place = 0; place < 3; place++) {
    made[`drink/k${place}`] = {
      title: `Drink ${place}`,
      scene: "12",
      mixed_from: "tea",
      glass: "tumbler",
      fill_l: of("0.1", "l"),
      line_height_m: of("0.024", "m"),
      glasses: 2,
      spares: 2,
      resets: 4,
      takes_planned: 6,
    };
    made[`ingredient/i${place}`] = {
      title: "Tea",
      drink: `k${place}`,
      parts: of(1, ""),
    };
  }
  for (let place = 0; place < TASKS; place++) {
    const key = `task/t${place}`;
    const done: Value = place % 2 ? ["done", [[`${key}/title`, `Task ${place}`]]] : false;
    made[key] = {
      title: `Task ${place}`,
      department: ["grip", "electric", "art", "props"][place % 4] as string,
      shot,
      must: "must",
      hazard: "none",
      order: place,
      done,
    };
  }
  made["reading/r1"] = {
    shot,
    point: "face",
    role: "key",
    illuminance_lx: of(118, "lx"),
    taken_for: "",
  };
  made["reading/r2"] = {
    shot,
    point: "face",
    role: "fill",
    illuminance_lx: of(39, "lx"),
    taken_for: "",
  };
  made["hold/h1"] = {
    why: "cable hot",
    type: "watch",
    on: "circuit/ring",
    department: "electric",
  };
  return Object.fromEntries(Object.entries(made).map(([key, set]) => [key, fields(set)]));
}
