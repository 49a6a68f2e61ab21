// What belongs to a record: its parts (a source's layers) and the shots it serves, each with its own editor.
import { save } from "../../acting";
import { gather, idOf, titleOf } from "../../day_reads";
import { record as recordSignal, recordsOf, shown } from "../../day_signals";
import { ask } from "../../engine/client";
import type { Value } from "../../engine/contract";
import { kinds_table } from "../../kinds_table";
import { link } from "../../routing";
import type { KindRow } from "../../sheet_types";
import { words } from "../../words";
import { RecordRow } from "../set/set";
import { Choices } from "./chosen_entry";

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

/** Where a source burns: one tap a shot. A shot that it is new in gets it as it burns in another. */
function BurnsIn({ source }: { source: string }) {
  const levels = new Map(
    recordsOf("level")
      .value.filter((key) => shown(recordSignal(key).value?.source) === source)
      .map((key) => [String(shown(recordSignal(key).value?.shot)), key]),
  );
  const scene = shown(recordSignal(`source/${source}`).value?.scene);
  const options = recordsOf("shot").value.flatMap((key) => {
    const is_here = !scene || shown(recordSignal(key).value?.scene) === scene || levels.has(idOf(key));
    return is_here ? [{ value: idOf(key), word: titleOf(key) }] : [];
  });
  const burning = [...levels].filter(([, key]) => shown(recordSignal(key).value?.on) !== "no");
  const chosen = burning.map(([shot]) => shot);
  if (!options.length) return null;
  const choose = async (next: string[]) => {
    const shot = [...next, ...chosen].find((one) => next.includes(one) !== chosen.includes(one)) ?? "";
    const known = levels.get(shot);
    const about = { source, shot, on: next.includes(shot) ? "yes" : "no" };
    const like = known ? "" : (burning[0]?.[1] ?? "");
    const question = { do: "usual", kind: "level", about, like, records: gather(["level"]) };
    const answer = known ? null : await ask(question);
    const set = answer?.ok ? (answer.set as { [field: string]: Value }) : { on: about.on };
    await save([{ kind: "level", record: `${source}~${shot}`, set }], titleOf(`shot/${shot}`));
  };
  return (
    <div class="entry">
      <Choices label={words.build.burns_in} options={options} chosen={chosen} is_many onChoose={choose} />
    </div>
  );
}

export const PartsOf = ({ record, kind, shot }: { record: string; kind: KindRow; shot: string }) => (
  <>
    {kind.name === "source" && <BurnsIn source={idOf(record)} />}
    {belonging(kind).map((one) => (
      <Belonging key={one.kind.name} record={record} kind={one.kind} field={one.field} shot={shot} />
    ))}
  </>
);
