// Acts of this person: what is being saved, what was saved, what was not, and the ten seconds in which it is one tap back.
// A1 nothing is shown as saved before the engine said so. A2 an undo is a new act that replaces this act alone.
import { signal } from "@preact/signals";
import { announceNow } from "./announce";
import { answerOf } from "./asked";
import { cellMark, paintedIds, record, recordNow, shown } from "./day_signals";
import { actAll, type ScreenAct } from "./engine/client";
import type { RecordKey, Value } from "./engine/contract";
import type { Row, RowState } from "./sheet_types";
import { words } from "./words";

export const UNDO_MS = 10_000;

type Overlay =
  | { state: "saving" }
  | { state: "saved"; id: string; value: Value }
  | { state: "failed"; sentence: string };

/** Cell key -> what became of this tab's last act on it, until the sheets say it themselves. */
const overlays = signal<{ [cell: string]: Overlay }>({});

/** For whom ticks are made, and from what. Shown for as long as it is not the usual. */
export const tick_mode = signal<{ for_whom: string; how: "" | "paper"; opens: boolean }>({
  for_whom: "",
  how: "",
  opens: false,
});
export const usual_ticks = (): void => {
  tick_mode.value = { for_whom: "", how: "", opens: false };
};

export type Undo = { said: string; acts: ScreenAct[]; until: number };
export const undo = signal<Undo | null>(null);

const keyOf = (act: ScreenAct): RecordKey => `${act.kind}/${act.record}`;

function overlay(acts: ScreenAct[], made: (act: ScreenAct, index: number, field: string) => Overlay): void {
  const next = { ...overlays.value };
  acts.forEach((act, index) => {
    for (const field in act.set) next[`${keyOf(act)}/${field}`] = made(act, index, field);
  });
  overlays.value = next;
}

/** Offer to take acts back for ten seconds. */
export function offerUndo(said: string, acts: ScreenAct[]): void {
  const offered = { said, acts, until: Date.now() + UNDO_MS };
  undo.value = offered;
  setTimeout(() => {
    if (undo.value === offered) undo.value = null;
  }, UNDO_MS);
}

/** Values of the fields before the act, as an act that is not made yet. */
const before = (act: ScreenAct): ScreenAct["set"] => {
  const fields = recordNow(keyOf(act));
  return Object.fromEntries(
    Object.keys(act.set).map((field) => [field, shown(fields?.[field]) ?? usual(act.set[field])]),
  );
};
const usual = (value: Value | undefined): Value => (isTick(value) ? false : null);
const isTick = (value: Value | undefined): boolean =>
  value === false || (Array.isArray(value) && value[0] === "done");

/** `back`: the acts that put the values before in place, of what was saved. */
export type SaveAnswer = {
  saved: boolean;
  reasons: { field: string; sentence: string }[];
  back: ScreenAct[];
};

let saving: Promise<unknown> | null = null;

/** Save acts in one transaction. With `said`, offer to take them back for ten seconds. With `is_whole` one refused refuses all. */
export function save(...what: Parameters<typeof saveNow>): Promise<SaveAnswer> {
  const saved = saveNow(...what);
  const until = Promise.allSettled([saving, saved]).then(() => {
    if (saving === until) saving = null;
  });
  saving = until;
  return saved;
}

async function saveNow(
  acts: ScreenAct[],
  said = "",
  put_back?: ScreenAct["set"][],
  is_whole = false,
): Promise<SaveAnswer> {
  const were = put_back ?? acts.map(before);
  overlay(acts, () => ({ state: "saving" }));
  const answers = await actAll(acts, is_whole).catch((error: unknown) => {
    console.error("act failed", error);
    return [];
  });
  const reasons = acts.flatMap((_act, index) => {
    const answer = answers[index];
    if (answer?.saved) return [];
    return answer?.reasons ?? [{ field: "", code: "no_answer", sentence: words.save.no_answer }];
  });
  overlay(acts, (act, index, field) => {
    const answer = answers[index];
    if (answer?.saved) return { state: "saved", id: answer.id, value: act.set[field] ?? null };
    const own = reasons.find((reason) => reason.field === field) ?? reasons[0];
    return { state: "failed", sentence: own?.sentence ?? words.save.no_answer };
  });
  const undone = acts.flatMap((act, index): ScreenAct[] => {
    const answer = answers[index];
    if (!answer?.saved) return [];
    const painted = Object.fromEntries(Object.keys(act.set).map((field) => [field, [answer.id]]));
    return [{ kind: act.kind, record: act.record, set: were[index] ?? {}, painted }];
  });
  if (!reasons.length) announceNow(words.live.saved(said));
  if (said && undone.length) offerUndo(said, undone);
  return { saved: reasons.length === 0, reasons, back: undone };
}

export async function takeBack(): Promise<void> {
  const offered = undo.value;
  undo.value = null;
  if (offered) await save(offered.acts);
}

/** Take the last act back, once it is saved: what is offered until then is the act before, and stays. False: there is none. */
export function takeLastBack(): boolean {
  const offered = undo.value;
  if (!offered && !saving) return false;
  const was_saving = saving;
  void Promise.resolve(saving).then(() => {
    if (!was_saving || undo.value !== offered) return takeBack();
  });
  return true;
}

/** Two phones without signal make the same record: the rules name one that has two ends by them. */
export async function idOfEnds(kind: string, set: { [field: string]: Value }): Promise<string> {
  return (await answerOf<{ id: string }>({ do: "record_id", kind, set })).id;
}

export type Painted = { state: RowState; is_saving: boolean; failed: string; own_id: string };

/** A row as it is to be shown: the sheet's word, or this tab's newer act on it while the sheet does not know it yet. */
export function paintedRow(row: Row): Painted {
  const over = overlays.value[`${row.record}/${row.field}`];
  const plain = { state: row.state, is_saving: false, failed: "", own_id: "" };
  if (!over) return plain;
  if (over.state === "saving") return { ...plain, is_saving: true };
  if (over.state === "failed") return { ...plain, failed: over.sentence };
  const cell = record(row.record).value?.[row.field];
  const is_newer = !row.painted[row.field]?.includes(over.id) && paintedIds(cell).includes(over.id);
  if (!is_newer) return plain;
  if (cellMark(cell) === 3) return { ...plain, state: "two", own_id: over.id };
  return { ...plain, state: over.value ? "done" : "open", own_id: over.id };
}

/** What became of the last act of this tab on a field. */
export const overlayOf = (cell: string): Overlay | undefined => overlays.value[cell];

let last_tick = { cell: "", at: 0 };

/** Tick, or take the tick off. A second tap by a bouncing glove does nothing. */
export async function toggle(row: Row): Promise<void> {
  const cell = `${row.record}/${row.field}`;
  const at = performance.now();
  if (last_tick.cell === cell && at - last_tick.at < 350) return;
  last_tick = { cell, at };
  const is_done = paintedRow(row).state === "done";
  await tickAll([row], is_done ? false : undefined);
}

/** Tick rows in one act each, all saved together; `value` false takes the ticks off. */
export async function tickAll(rows: Row[], value?: false): Promise<void> {
  const { for_whom, how } = tick_mode.value;
  const acts = rows.map((row): ScreenAct => {
    const { own_id } = paintedRow(row);
    const slash = row.record.indexOf("/");
    return {
      kind: row.record.slice(0, slash),
      record: row.record.slice(slash + 1),
      set: { [row.field]: value ?? row.value_if_ticked },
      painted: { [row.field]: [...(row.painted[row.field] ?? []), ...(own_id ? [own_id] : [])] },
      for_whom,
      how,
    };
  });
  const first = rows[0];
  const said = first ? words.join_words([first.title, rows.length > 1 ? `+ ${rows.length - 1}` : ""]) : "";
  await save(acts, said);
}
