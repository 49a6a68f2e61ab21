// What the person has said of a list so far, and what the rules make of it. Kept while the app is open: nothing pasted is lost.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { useAnswer } from "../../asked";
import { gather } from "../../day_reads";
import type { ScreenAct } from "../../engine/client";
import { units } from "../../preferences";

export type Brought = {
  kind: string;
  header: number;
  columns: {
    heading: string;
    field: string;
    label: string;
    unit: string;
    takes_unit: boolean;
    samples: string[];
    gaps: number;
    is_filled: boolean;
  }[];
  options: { field: string; label: string; unit: string }[];
  rows: { row: number; title: string; state: string; differs: string[] }[];
  faults: { row: number; column: number; heading: string; value: string; code: string; sentence: string }[];
  notes: string[];
  acts: { kind: string; record: string; set: { [field: string]: never }; how: "import" }[];
};

export type Said = {
  text: string;
  read_as: string;
  kind: string;
  columns: string[] | null;
  column_units: { [column: string]: string };
  fill_down: number[] | null;
  corrections: { [cell: string]: string };
  left_out: number[];
  list_is_right: boolean;
};

export const NOTHING_SAID: Said = {
  text: "",
  read_as: "",
  kind: "",
  columns: null,
  column_units: {},
  fill_down: null,
  corrections: {},
  left_out: [],
  list_is_right: false,
};

export const said = signal<Said>(NOTHING_SAID);
export const say = (more: Partial<Said>): void => {
  said.value = { ...said.value, ...more };
};

/** What came in last, and how it goes back: offered for as long as the app is open. */
export type Done = {
  rows: number;
  acts: ScreenAct[];
  back: ScreenAct[];
  was_there: boolean[];
  is_back: boolean;
};
export const done = signal<Done | null>(null);

const TYPING_MS = 250;
/** As much as the rules take; how much there is in all they are told, and refuse. */
const SENT_LETTERS = 400_000;
const KINDS = ["shot", "dressing", "drink", "kit", "scene", "setup"];

/** What the rules make of it. */
export function useBrought() {
  const now = said.value;
  const [calm, setCalm] = useState(now);
  useEffect(() => {
    const timer = setTimeout(() => setCalm(now), TYPING_MS);
    return () => clearTimeout(timer);
  }, [now]);
  const { read_as, text, ...more } = calm;
  const question = text.trim()
    ? {
        do: "bring_in",
        ...more,
        text: text.slice(0, SENT_LETTERS),
        line_count: text.split("\n").length,
        size_bytes: text.length,
        units: units.value,
        records: gather(KINDS),
      }
    : null;
  const asked = useAnswer<Brought>(question, [calm, units.value, done.value]);
  return { ...asked, is_current: asked.is_current && calm === now };
}
