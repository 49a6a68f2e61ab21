// A field that is chosen: one of a few words, a department, several departments, another record. A tap saves.
import { useEffect, useId, useRef } from "preact/hooks";
import { overlayOf, save } from "../../acting";
import { idOf, kindOf, titleOf } from "../../day_reads";
import { paintedIds, record as recordSignal, recordsOf, shown } from "../../day_signals";
import type { Value } from "../../engine/contract";
import { kinds_table } from "../../kinds_table";
import { NotSaved } from "../../parts/blocks";
import type { FieldRow } from "../../sheet_types";
import { words } from "../../words";
import { cellKey } from "./drafts";
import type { EntryProps } from "./typed_entry";

/** What can be used up. */
const USED_UP = ["drink", "food", "kit"];

type Option = { value: string; word: string };

/** What can be chosen for a field: words, departments, or the records that it may point to. */
export function optionsOf(field: FieldRow): Option[] {
  if (field.type === "reference") {
    return recordsOf(field.kind).value.map((key) => ({ value: idOf(key), word: titleOf(key) }));
  }
  if (field.type === "any_reference") {
    const keys = USED_UP.flatMap((kind) => recordsOf(kind).value);
    return keys.map((key) => ({ value: key, word: titleOf(key) }));
  }
  if (field.type === "department" || field.type === "departments") {
    return kinds_table.value.departments.map(({ name, label }) => ({ value: name, word: label }));
  }
  return field.choices.map((value) => ({ value, word: words.record.choice(value) }));
}

export function Choices(props: {
  label: string;
  options: Option[];
  chosen: string[];
  is_many?: boolean;
  onChoose: (chosen: string[]) => void;
}) {
  const name = useId();
  const choose = (value: string, is_on: boolean) => {
    const others = props.is_many ? props.chosen.filter((one) => one !== value) : [];
    props.onChoose(is_on ? [...others, value] : others);
  };
  return (
    <fieldset>
      <legend>{props.label}</legend>
      <div class="choices">
        {props.options.map(({ value, word }) => (
          <label key={value}>
            <input
              type={props.is_many ? "checkbox" : "radio"}
              name={name}
              checked={props.chosen.includes(value)}
              onChange={(event) => choose(value, event.currentTarget.checked)}
            />
            <span>{word}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

export const Chooser = (props: {
  id: string;
  options: Option[];
  chosen: string;
  nothing?: string;
  onChoose: (value: string) => void;
}) => (
  <select id={props.id} value={props.chosen} onChange={(event) => props.onChoose(event.currentTarget.value)}>
    <option value="">{props.nothing ?? words.record.choose}</option>
    {props.options.map(({ value, word }) => (
      <option key={value} value={value}>
        {word}
      </option>
    ))}
  </select>
);

export function ChosenEntry({ record, field, is_wanted, onBegin, onSaved }: EntryProps) {
  const id = useId();
  const cell = recordSignal(record).value?.[field.name];
  const value = shown(cell);
  const block = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!is_wanted) return;
    block.current?.scrollIntoView({ block: "center" });
    block.current?.querySelector<HTMLElement>("input:checked, input, select")?.focus();
  }, [is_wanted]);
  const choose = async (next: Value) => {
    onBegin();
    const act = {
      kind: kindOf(record),
      record: idOf(record),
      set: { [field.name]: next },
      painted: { [field.name]: paintedIds(cell) },
    };
    if ((await save([act], field.label)).saved) onSaved();
  };
  const over = overlayOf(cellKey(record, field.name));
  const is_many = field.type === "departments";
  const chosen = is_many ? (Array.isArray(value) ? value.map(String) : []) : value ? [String(value)] : [];
  return (
    <div class="entry" ref={block}>
      {field.type === "reference" || field.type === "department" ? (
        <>
          <label class="name" for={`${id}s`}>
            {field.label}
          </label>
          <Chooser
            id={`${id}s`}
            options={optionsOf(field)}
            chosen={chosen[0] ?? ""}
            nothing={words.record.unknown}
            onChoose={(next) => void choose(next || null)}
          />
        </>
      ) : (
        <Choices
          label={field.label}
          options={optionsOf(field)}
          chosen={chosen}
          is_many={is_many}
          onChoose={(next) => void choose(is_many ? next : (next[0] ?? null))}
        />
      )}
      <NotSaved sentence={over?.state === "failed" ? over.sentence : ""} />
    </div>
  );
}
