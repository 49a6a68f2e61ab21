// What belongs to a record: its parts (a source's layers) and the shots it serves, each with its own editor.
import { idOf } from "../../day_reads";
import { record as recordSignal, recordsOf, shown } from "../../day_signals";
import { kinds_table } from "../../kinds_table";
import { link } from "../../routing";
import type { KindRow } from "../../sheet_types";
import { words } from "../../words";
import { RecordRow } from "../set/set";

/** Kinds whose records point to this kind and make no sense without it. */
const belonging = (kind: KindRow): { kind: KindRow; field: string }[] =>
  kinds_table.value.kinds.flatMap((one) => {
    const fields = one.part_of ? [one.part_of] : one.ends;
    const found = one.fields.find((field) => fields.includes(field.name) && field.kind === kind.name);
    const rig = one.name === "rig" && kind.name === "source" ? "source" : "";
    const name = found?.name ?? rig;
    return name ? [{ kind: one, field: name }] : [];
  });

function Belonging(props: { record: string; kind: KindRow; field: string; shot: string }) {
  const id = idOf(props.record);
  const keys = recordsOf(props.kind.name).value.filter(
    (key) => shown(recordSignal(key).value?.[props.field]) === id,
  );
  return (
    <section>
      <h2>{props.kind.label}</h2>
      {keys.map((key) => (
        <RecordRow key={key} record={key} shot={props.shot} />
      ))}
      <a class="row plain" href={link("add", [props.kind.name], { [props.field]: id, shot: props.shot })}>
        <b>{words.set.add(props.kind.label)}</b>
      </a>
    </section>
  );
}

export const PartsOf = ({ record, kind, shot }: { record: string; kind: KindRow; shot: string }) => (
  <>
    {belonging(kind).map((one) => (
      <Belonging key={one.kind.name} record={record} kind={one.kind} field={one.field} shot={shot} />
    ))}
  </>
);
