// The set from above, then as a list: every kind of record that describes it, each with its editor.
import { idOf, titleOf } from "../../day_reads";
import { membership, record, recordsOf, shown } from "../../day_signals";
import { useInView } from "../../in_view";
import { kindNamed } from "../../kinds_table";
import { Fold, Head } from "../../parts/blocks";
import { Said, Unseen } from "../../parts/said";
import { link } from "../../routing";
import { isUnseen } from "../../seen";
import { words } from "../../words";
import { last_kind } from "../record/drafts";
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
const BESIDE_IT = ["person", "mark", "taping", "task", "kit", "performer", "starting_point", "note"];
const SHOWN_NEXT = 3;

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
  const add = (
    <a class="row plain" href={link("add", [kind])}>
      <b>{words.set.add(label)}</b>
      {keys.length === 0 && <span class="word">{words.set.none}</span>}
    </a>
  );
  if (!keys.length) return add;
  return (
    <Fold title={label} count={keys.length} is_open={last_kind.value === kind}>
      {add}
      {keys.map((key) => (
        <RecordRow key={key} record={key} />
      ))}
    </Fold>
  );
}

/** On a day that is not made yet: what to do next, the first few of it. */
function Next({ day }: { day: string }) {
  const w = words.build;
  const is_lacking = (kind: string) =>
    kind === "day"
      ? !shown(record(day).value?.place)
      : recordsOf(kind).value.length < (kind === "person" ? 2 : 1);
  const next = Object.keys(w.next_of).filter(is_lacking);
  const shot = recordsOf("shot").value[0];
  if (!next.length) return null;
  const where = (kind: string) => {
    if (kind === "day") return link("record", day.split("/"));
    return kind === "source" && shot ? link("start", [], { shot: idOf(shot) }) : link("add", [kind]);
  };
  return (
    <>
      <h2>{w.next}</h2>
      {!shot && <p class="para sub">{w.begin}</p>}
      {next.slice(0, SHOWN_NEXT).map((kind) => (
        <a key={kind} class="row plain" href={where(kind)}>
          <b>{w.next_of[kind]}</b>
        </a>
      ))}
    </>
  );
}

export function SetScreen() {
  useInView("", "");
  const day = `day/${membership.value?.day ?? ""}`;
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
      <Next day={day} />
      <SetPlan />
      {ON_THE_SET.map((kind) => (
        <OneKind key={kind} kind={kind} />
      ))}
      <h2>{words.set.beside}</h2>
      <a class="row plain" href={link("record", day.split("/"))}>
        <b>{words.build.facts}</b>
      </a>
      {BESIDE_IT.map((kind) => (
        <OneKind key={kind} kind={kind} />
      ))}
    </>
  );
}
