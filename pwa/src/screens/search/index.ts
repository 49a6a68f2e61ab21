// Every record of the day as words to look through: case and accents folded. Which states and shots it has, the sheets say.
import { computed } from "@preact/signals";
import { idOf, kindOf, rowsOf, shots_in_order, titleOf } from "../../day_reads";
import { day_sheet } from "../../day_sheet";
import { facts, record, recordsOf } from "../../day_signals";
import type { Fields, RecordKey, Value } from "../../engine/contract";
import { fieldNamed, kindNamed, kinds_table } from "../../kinds_table";

export type Found = {
  key: RecordKey;
  title: string;
  /** What stands in it, field by field, as people typed it. */
  texts: { label: string; said: string }[];
  folded: string;
  departments: string[];
  place: string;
  states: Set<string>;
  shots: Set<string>;
};

const NO_ACCENT: { [letter: string]: string } = { ø: "o", ł: "l", đ: "d", ß: "ss", æ: "ae", œ: "oe", ı: "i" };

export const folded = (text: string): string =>
  text
    .toLowerCase()
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replace(/[øłđßæœı]/g, (letter) => NO_ACCENT[letter] ?? letter);

const NOT_LOOKED_THROUGH = ["verdict", "void"];
const WORDS = ["text", "long_text", "time", "choice", "count"];

function textOf(kind: string, field: string, value: Value): string {
  const type = fieldNamed(kind, field)?.type ?? "text";
  if (type === "quantity" && Array.isArray(value)) return String(value[1] ?? "");
  if (field === "taken_for" || !WORDS.includes(type) || value === null) return "";
  return String(value).replaceAll("_", " ");
}

function departmentsOf(kind: string, fields: Fields): string[] {
  const found = [...(kindNamed(kind)?.departments ?? [])];
  for (const name in fields) {
    const type = fieldNamed(kind, name)?.type;
    const value = fields[name]?.[1][0]?.[1];
    if (type === "department" && typeof value === "string") found.push(value);
    if (type === "departments" && Array.isArray(value)) found.push(...value.map(String));
  }
  return found;
}

/** For each record the shots whose sheets read it, and the states of its rows. */
const told_by_sheets = computed(() => {
  const states = new Map<RecordKey, Set<string>>();
  const shots = new Map<RecordKey, Set<string>>();
  const put = (map: Map<RecordKey, Set<string>>, key: RecordKey, word: string) => {
    const some = map.get(key);
    if (some) some.add(word);
    else map.set(key, new Set([word]));
  };
  for (const { shot, sheet, readiness } of shots_in_order.value) {
    put(states, `shot/${shot}`, readiness.state);
    for (const key of sheet.reads) put(shots, key, shot);
    for (const row of rowsOf(sheet)) put(states, row.record, row.state);
    for (const two of sheet.two_answers) put(states, two.record, "two");
  }
  for (const hold of day_sheet.value?.holds ?? []) if (!hold.cleared) put(states, hold.record, "hold");
  return { states, shots };
});

const NONE: Set<string> = new Set();

const edits = computed(() => facts.value?.edits);

/** The whole day. Made anew when there is another edit: one reading instead of one for each letter typed. */
export const everything = computed((): Found[] => {
  edits.value;
  const { states, shots } = told_by_sheets.value;
  return kinds_table.value.kinds
    .filter(({ name }) => !NOT_LOOKED_THROUGH.includes(name))
    .flatMap(({ name, label }) =>
      recordsOf(name).value.map((key): Found => {
        const fields = record(key).peek() ?? {};
        const texts = Object.entries(fields).flatMap(([field, cell]) => {
          const said = cell[1].map(([, value]) => textOf(name, field, value)).join(", ");
          return said ? [{ label: fieldNamed(name, field)?.label ?? field, said }] : [];
        });
        const title = titleOf(key);
        const place = fields.place?.[1][0]?.[1];
        return {
          key,
          title,
          texts,
          folded: folded([label, title, ...texts.map(({ said }) => said)].join("\n")),
          departments: departmentsOf(kindOf(key), fields),
          place: typeof place === "string" ? place : "",
          states: states.get(key) ?? NONE,
          shots: kindOf(key) === "shot" ? new Set([idOf(key)]) : (shots.get(key) ?? NONE),
        };
      }),
    );
});
