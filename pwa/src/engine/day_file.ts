// The day as one file, written and read on the phone. What a file is and which of it is whole, day/day_file.py says.
// Nothing here changes the day: day_engine.ts takes in what was found whole, in one transaction.
import { DayCells, Draft } from "./cells";
import type { DayFile, FileFault } from "./contract";
import type { DayState } from "./day_state";
import { type ReadEdit, readText } from "./edit_text";
import { HeldEdits, recordOf, setOf } from "./held_edits";
import { type Kinds, mergeEdits } from "./merging";
import { EDITS_PER_CALL, type Rules } from "./rules";

const SETS = ["floor"];
const DIGEST_LETTERS = 16;

/** The floor of the day as the text of a file; digests stand first, so that a file cut short still says what it lacks. */
export function textOf(rules: Rules, day: string, title: string, state: DayState): string {
  const { file } = rules.ask<{ file: string }>({ do: "day_file_form" });
  const ids = [...state.held.ids()].filter((id) => SETS.includes(setOf(state.held.text(id))));
  const digests = { floor: ids.map((id) => id.slice(-DIGEST_LETTERS)).join("") };
  return JSON.stringify({ file, day, title, digests, sets: { floor: ids.map((id) => state.held.text(id)) } });
}

type Parsed = {
  day: string;
  title: string;
  sets: { [set: string]: unknown };
  digests?: { [set: string]: unknown };
};
export type ReadFile = Omit<DayFile, "known" | "fresh" | "cells"> & { edits: ReadEdit[] };

/** Parse; a file that was cut off is closed behind its last whole edit, and said to be cut off. */
function parsed(text: string): { found: Parsed | null; is_cut: boolean } {
  try {
    return { found: JSON.parse(text), is_cut: false };
  } catch {
    const end = text.lastIndexOf(']"'); // only an edit's text ends so: within one each quotation mark is escaped
    try {
      return { found: JSON.parse(`${text.slice(0, end + 2)}]}}`), is_cut: true };
    } catch {
      return { found: null, is_cut: true }; // the rules say that it is no day
    }
  }
}

const lists = (sets: unknown): { [set: string]: unknown[] } | null =>
  sets && typeof sets === "object" && Object.values(sets).every(Array.isArray)
    ? (sets as { [set: string]: unknown[] })
    : null;

/** Read a file of `day` ("" reads any). Throws RulesRefused when it is no day, of a newer version, or of another. */
export function readFile(rules: Rules, text: string, day: string, held: HeldEdits | null): ReadFile {
  const { found, is_cut } = parsed(text);
  const sets = lists(found?.sets);
  const counts = sets && Object.fromEntries(Object.entries(sets).map(([set, texts]) => [set, texts.length]));
  const head = found && typeof found === "object" ? { ...found, sets: counts } : null;
  const { faults } = rules.ask<{ faults: FileFault[] }>({
    do: "day_file_head",
    head,
    day,
    size_bytes: text.length,
    sets: SETS,
  });
  const { day: of_day, title, digests } = found as Parsed;
  const edits: ReadEdit[] = [];
  const kinds = new Map<string, string>();
  for (const set of SETS.filter((one) => sets?.[one])) {
    const texts = sets?.[set] as unknown[];
    const read = texts.map((one) => (typeof one === "string" ? readText(one, of_day) : null));
    for (const one of read) if (one) kinds.set(one.id, one.parts[11]);
    const of_set = digests?.[set];
    for (let first = 0; first < texts.length; first += EDITS_PER_CALL) {
      const page = read.slice(first, first + EDITS_PER_CALL);
      const judged = page.flatMap((one) => (one?.parts[11] === "verdict" ? [one.parts[12]] : []));
      const kindOf = (id: string) =>
        kinds.get(id) ?? (held?.has(id) ? recordOf(held.text(id)).split("/")[0] : "");
      const answer = rules.ask<{ taken: boolean[]; faults: FileFault[] }>({
        do: "day_file_page",
        texts: texts.slice(first, first + EDITS_PER_CALL),
        day: of_day,
        part: set,
        first,
        digests:
          typeof of_set === "string"
            ? of_set.slice(first * DIGEST_LETTERS, (first + page.length) * DIGEST_LETTERS)
            : "",
        judged: Object.fromEntries(judged.map((id) => [id, kindOf(id)])),
      });
      faults.push(...answer.faults);
      for (const [place, one] of page.entries()) if (one && answer.taken[place]) edits.push(one);
    }
  }
  const unique = new Map(edits.map((one) => [one.id, one]));
  return { day: of_day, title, is_cut, faults, edits: [...unique.values()] };
}

/** The records that a file's edits make, as JSON text {record key: Fields}: a day beside this one, to look something up in. */
export function cellsOf(rules: Rules, kinds: Kinds, { day, edits }: ReadFile): string {
  const draft = new Draft(new DayCells());
  mergeEdits(rules, kinds, day, draft, new HeldEdits(), edits);
  return JSON.stringify(draft.changed);
}
