// The records of a whole day for row H: 2,000 of them over 24 shots, half of the tasks ticked, departments with words of their own.
import type { Fields, RecordKey, Value } from "../../../pwa/src/engine/contract";
import { fields } from "./a_sheet";

export const SHOTS = 24;
const TASKS = 80;
const DEPARTMENTS = ["grip", "electric", "camera", "art", "props", "sound"];

const tick = (key: RecordKey, title: string): Value => ["done", [[`${key}/title`, title]]];
export const shotKey = (place: number): string => `h${place}`;

/** A task as ticked, or not. */
export const ticked = (shot: number, task: number, is_done: boolean): { [record: RecordKey]: Fields } => {
  const key = `task/h${shot}-${task}`;
  return { [key]: fields({ done: is_done ? tick(key, `Task ${task}`) : false }) };
};

export function boardRecords(): { [record: RecordKey]: Fields } {
  const made: { [record: RecordKey]: { [field: string]: Value } } = {
    "day/bench": {
      title: "Bench",
      call_time: "06:00",
      wrap_time: "20:00",
      meal_time: "12:00",
      meal_min: 45,
      shooting_min: 15,
      turn_around_min: 5,
      next_call_time: "07:00",
      rest_min: 660,
    },
    "scene/h": { number: "1", title: "Hall" },
  };
  for (let person = 0; person < 8; person++)
    made[`person/h${person}`] = {
      name: `P ${person}`,
      role: `Role ${person}`,
      departments: [DEPARTMENTS[person % DEPARTMENTS.length] as string],
    };
  for (let place = 0; place < SHOTS; place++) {
    const shot = shotKey(place);
    made[`shot/${shot}`] = {
      number: String(place + 1),
      title: "Shot",
      scene: "h",
      order: place,
      phase: "setting",
      planned_roll_time: `${String(6 + Math.floor(place / 2)).padStart(2, "0")}:30`,
    };
    for (const department of DEPARTMENTS.slice(0, 2))
      made[`word/${shot}~${department}`] = { shot, department, said: "more", minutes: 20 + place };
    for (let task = 0; task < TASKS; task++) {
      const key = `task/h${place}-${task}`;
      made[key] = {
        title: `Task ${task}`,
        department: DEPARTMENTS[task % DEPARTMENTS.length] as string,
        shot,
        must: "must",
        hazard: "none",
        order: task,
        done: task % 12 < 6 ? tick(key, `Task ${task}`) : false,
      };
    }
  }
  return Object.fromEntries(Object.entries(made).map(([key, set]) => [key, fields(set)]));
}
