// What a person typed -> the value to store, or the refusal in the words of the rules. No number is read here.
import { ask } from "../../engine/client";
import type { Value } from "../../engine/contract";
import { units } from "../../preferences";
import type { FieldRow } from "../../sheet_types";
import { words } from "../../words";

export type Read = { value: Value; shown: string; refused: string };

/** How long nobody types before it is read. */
export const PAUSE_MS = 250;

const WHOLE = /^\d{1,15}$/;

async function typedValue(kind: string, field: FieldRow, typed: string): Promise<Read> {
  const text = typed.trim();
  if (text === "") return { value: null, shown: "", refused: "" };
  if (field.type === "count")
    return { value: WHOLE.test(text) ? Number(text) : text, shown: "", refused: "" };
  if (field.type !== "quantity") return { value: typed, shown: "", refused: "" };
  const answer = await ask({ do: "read_typed", kind, field: field.name, typed: text, units: units.value });
  if (!answer.ok) return { value: null, shown: "", refused: answer.sentence };
  return { value: answer.value as Value, shown: String(answer.shown), refused: "" };
}

/** Read what was typed and ask the rules whether it may stand. */
export async function readTyped(kind: string, field: FieldRow, typed: string): Promise<Read> {
  try {
    const read = await typedValue(kind, field, typed);
    if (read.refused) return read;
    const answer = await ask({ do: "check", kind, set: { [field.name]: read.value } });
    if (!answer.ok) return { ...read, refused: answer.sentence };
    const [reason] = answer.reasons as { sentence: string }[];
    return { ...read, refused: reason?.sentence ?? "" };
  } catch (error) {
    console.error("the rules did not read what was typed", error);
    return { value: null, shown: "", refused: words.save.no_answer };
  }
}
