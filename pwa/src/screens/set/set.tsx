// The set from above, then as a list: every kind of record that describes it, each with its editor.
import { titleOf } from "../../day_reads";
import { recordsOf } from "../../day_signals";
import { useInView } from "../../in_view";
import { kindNamed } from "../../kinds_table";
import { Fold, Head } from "../../parts/blocks";
import { Said, Unseen } from "../../parts/said";
import { link } from "../../routing";
import { isUnseen } from "../../seen";
import { words } from "../../words";
import { SetPlan } from "./set_plan";

/** What the set is made of, in the order in which one describes it. Layers and levels stand inside their sources. */
const ON_THE_SET = [
  "scene",
  "shot",
  "setup",
  "point",
  "source",
  "rig",
  "circuit",
  "dressing",
  "drink",
  "food",
];
const BESIDE_IT = ["mark", "task", "kit", "performer", "note", "day"];

export const RecordRow = ({ record, shot = "" }: { record: string; shot?: string }) => {
  const [kind = "", id = ""] = record.split("/");
  return (
    <a class="row plain" href={link("record", [kind, id], { shot })}>
      <span class="t">
        {isUnseen(record) && <Unseen />}
        <Said>{titleOf(record)}</Said>
      </span>
    </a>
  );
};

function OneKind({ kind }: { kind: string }) {
  const label = kindNamed(kind)?.label ?? kind;
  const keys = recordsOf(kind).value;
  return (
    <Fold title={label} count={keys.length || words.set.none}>
      {keys.map((key) => (
        <RecordRow key={key} record={key} />
      ))}
      {kind !== "day" && (
        <a class="row plain" href={link("add", [kind])}>
          <b>{words.set.add(label)}</b>
        </a>
      )}
    </Fold>
  );
}

export function SetScreen() {
  useInView("", "");
  return (
    <>
      <Head number={words.set.title} />
      <a class="row plain" href={link("search")}>
        <b>{words.bring.search.title}</b>
      </a>
      <a class="row plain" href={link("kit")}>
        <b>{words.bring.kit.title}</b>
      </a>
      <a class="row plain" href={link("bring")}>
        <b>{words.bring.title}</b>
      </a>
      <SetPlan />
      {ON_THE_SET.map((kind) => (
        <OneKind key={kind} kind={kind} />
      ))}
      <h2>{words.set.beside}</h2>
      {BESIDE_IT.map((kind) => (
        <OneKind key={kind} kind={kind} />
      ))}
    </>
  );
}
