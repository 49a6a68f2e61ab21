// The scratch copy of a shot: acts that are tried and saved nowhere, until they are applied or thrown away.
import { signal } from "@preact/signals";
import { idOf, kindOf } from "../../day_reads";
import type { ScreenAct } from "../../engine/client";
import type { RecordKey, Value } from "../../engine/contract";

export type Scratch = { said: string; act: ScreenAct };

const scratches = signal<{ [shot: string]: Scratch[] }>({});

export const scratchOf = (shot: string): Scratch[] => scratches.value[shot] ?? [];

const put = (shot: string, all: Scratch[]): void => {
  scratches.value = { ...scratches.value, [shot]: all };
};

const isOn = (one: Scratch, act: ScreenAct): boolean =>
  one.act.kind === act.kind &&
  one.act.record === act.record &&
  Object.keys(act.set).every((field) => field in one.act.set);

/** Try a value; a later one for the same field takes the place of the earlier. */
export function tryValue(shot: string, said: string, record: RecordKey, field: string, value: Value): void {
  const act: ScreenAct = { kind: kindOf(record), record: idOf(record), set: { [field]: value } };
  put(shot, [...scratchOf(shot).filter((one) => !isOn(one, act)), { said, act }]);
}

export function tryActs(shot: string, said: string, acts: ScreenAct[]): void {
  const others = scratchOf(shot).filter((one) => !acts.some((act) => isOn(one, act)));
  put(shot, [...others, ...acts.map((act) => ({ said, act }))]);
}

export const takeOff = (shot: string, one: Scratch): void =>
  put(
    shot,
    scratchOf(shot).filter((other) => other !== one && other.said !== one.said),
  );

export const throwAway = (shot: string): void => put(shot, []);

/** Acts on one record made one, so that each record is written once. */
export function actsOf(all: Scratch[]): ScreenAct[] {
  const merged = new Map<string, ScreenAct>();
  for (const { act } of all) {
    const key = `${act.kind}/${act.record}`;
    const before = merged.get(key);
    const painted = { ...before?.painted, ...act.painted };
    const one: ScreenAct = { kind: act.kind, record: act.record, set: { ...before?.set, ...act.set } };
    merged.set(key, Object.keys(painted).length ? { ...one, painted } : one);
  }
  return [...merged.values()];
}
