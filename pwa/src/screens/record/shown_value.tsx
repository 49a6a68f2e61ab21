// A stored value in the words of the rules and the units of this phone; a reference by the title of what it points to.
import { useAnswer } from "../../asked";
import { titleOf } from "../../day_reads";
import type { Value } from "../../engine/contract";
import { fieldNamed } from "../../kinds_table";
import { Said } from "../../parts/said";
import { units } from "../../preferences";
import type { FieldRow } from "../../sheet_types";
import { words } from "../../words";

const PLAIN_TYPES = ["text", "long_text", "time", "count"];

/** The words for a value, "" while the rules have not answered. */
export function useShown(kind: string, field: string, value: Value | undefined): string {
  const known = fieldNamed(kind, field);
  const is_nothing = value === undefined || value === null || value === "";
  const points = known?.type === "reference" || known?.type === "any_reference";
  const is_plain = !known || points || PLAIN_TYPES.includes(known.type);
  const { answer } = useAnswer<{ shown: string }>(
    is_nothing || is_plain ? null : { do: "show", kind, field, value, units: units.value },
    [kind, field, JSON.stringify(value), units.value],
  );
  if (is_nothing) return words.record.unknown;
  if (points && typeof value === "string") return titleOf(known?.kind ? `${known.kind}/${value}` : value);
  if (is_plain) return Array.isArray(value) ? JSON.stringify(value) : String(value);
  return answer?.shown ?? "";
}

/** In what a bare figure is read on this phone: beside the field's name. */
export function FieldUnit({ field }: { field: FieldRow }) {
  const unit = (units.value === "imperial" && field.imperial) || field.unit;
  return unit && unit !== "ratio" ? <small>{unit}</small> : null;
}

export const ShownValue = (props: { kind: string; field: string; value: Value | undefined }) => (
  <Said>{useShown(props.kind, props.field, props.value)}</Said>
);
