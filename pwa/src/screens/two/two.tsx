// Two answers side by side: who, which department, when, how. Pick one, or type a third. Nobody is wrong here.
import { useState } from "preact/hooks";
import { overlayOf, save } from "../../acting";
import { timeOfDay } from "../../clock";
import { departmentsOf, idOf, kindOf, personName, shots_in_order, textOf, titleOf } from "../../day_reads";
import { cellMark, paintedIds, record as recordSignal } from "../../day_signals";
import type { LiveEdit, Value } from "../../engine/contract";
import { useInView } from "../../in_view";
import { departmentLabel, fieldNamed } from "../../kinds_table";
import { Caution, Empty, Head, NotSaved } from "../../parts/blocks";
import { Said, Strip } from "../../parts/said";
import { Waiting } from "../../parts/slow";
import { link } from "../../routing";
import type { FieldRow } from "../../sheet_types";
import { words } from "../../words";
import { FieldUnit, useShown } from "../record/shown_value";
import { readTyped } from "../record/typed";

type Pick = (value: Value) => void;
const LONG = 9;

function Answer(props: {
  kind: string;
  field: string;
  live: LiveEdit;
  is_shown: boolean;
  cut: number;
  onPick: Pick;
}) {
  const [, value, at_ms, by, for_whom, how] = props.live;
  const person = for_whom || by;
  const said = useShown(props.kind, props.field, value);
  const departments = departmentsOf(person).map(departmentLabel).join(", ");
  const name = personName(person) || words.two.unknown_person;
  return (
    <button type="button" class={props.is_shown ? "ans shown" : "ans"} onClick={() => props.onPick(value)}>
      <Strip number={departments || words.two.unknown_person} is_small cut={props.cut} />
      <span class="body">
        <span class={said.length > LONG ? "v long" : "v"}>
          <Said>{said}</Said>
        </span>
        <span>
          <b>
            <Said>{words.join_words([...new Set([name, textOf(`person/${person}`, "role")])])}</Said>
          </b>
        </span>
        <span>{words.join_words([timeOfDay(at_ms), words.history.hows[how] ?? ""])}</span>
        {props.is_shown && <span>{words.two.shown}</span>}
      </span>
      <span class="pick">
        <Said>{words.two.pick(said)}</Said>
      </span>
    </button>
  );
}

function Third({ kind, field, onPick }: { kind: string; field: FieldRow; onPick: Pick }) {
  const [typed, setTyped] = useState("");
  const [told, setTold] = useState({ shown: "", refused: "" });
  const read = async (text: string) => {
    setTyped(text);
    setTold(text ? await readTyped(kind, field, text) : { shown: "", refused: "" });
  };
  const use = async () => {
    const one = await readTyped(kind, field, typed);
    setTold(one);
    if (!one.refused && typed) onPick(one.value);
  };
  return (
    <form
      class="entry"
      onSubmit={(event) => {
        event.preventDefault();
        void use();
      }}
    >
      <label class="name" for="third">
        {words.two.third}
        <FieldUnit field={field} />
      </label>
      <input
        id="third"
        type="text"
        class="figure"
        dir="auto"
        autocomplete="off"
        value={typed}
        onInput={(event) => void read(event.currentTarget.value)}
      />
      <span class={told.refused ? "told refused" : "told"} aria-live="polite">
        {told.refused || told.shown}
      </span>
      {typed && !told.refused && (
        <span class="btns">
          <button type="submit" class="btn solid">
            {words.two.save_third}
          </button>
        </span>
      )}
    </form>
  );
}

export function TwoScreen({ parts }: { parts: string[] }) {
  const [kind = "", id = "", name = ""] = parts;
  const key = `${kind}/${id}`;
  const cell = recordSignal(key).value?.[name];
  const field = fieldNamed(kind, name);
  const found = shots_in_order.value
    .flatMap(({ sheet, shot }) => sheet.two_answers.map((two) => ({ two, shot })))
    .find(({ two }) => two.record === key && two.field === name);
  useInView(key, found?.shot);
  const label = field?.label ?? name;
  const over = overlayOf(`${key}/${name}`);
  const pick: Pick = (value) => {
    const act = {
      kind: kindOf(key),
      record: idOf(key),
      set: { [name]: value },
      painted: { [name]: paintedIds(cell) },
    };
    void save([act], label);
  };
  const is_split = cellMark(cell) >= 2;
  const is_careful = field?.rule === "careful";
  const typable = field && ["quantity", "count", "text", "time"].includes(field.type);
  return (
    <>
      <Head number={titleOf(key)} name={label} />
      {is_split && cell ? (
        <>
          <p class="para">
            <b>{words.two.title}</b> <span class="sub">{words.two.neither}</span>
          </p>
          <div class="pair">
            {cell[1].map((live, index) => (
              <Answer
                key={live[0]}
                kind={kind}
                field={name}
                live={live}
                is_shown={index === 0}
                cut={index}
                onPick={pick}
              />
            ))}
          </div>
          <p class="pad sub">
            <Said>{found?.two.sentence ?? ""}</Said> {is_careful && !found && words.two.not_done_counts}
            <Caution caution={found?.two.caution ?? null} />
          </p>
          {typable && <Third kind={kind} field={field} onPick={pick} />}
        </>
      ) : (
        <Empty sentence={words.two.settled}>
          <a class="btn" href={link("record", [kind, id])}>
            {words.record.edit}
          </a>
          <a class="btn" href={link("history", [kind, id])}>
            {words.record.history}
          </a>
        </Empty>
      )}
      <div class="pad">
        <Waiting sentence={words.wait.saving} is_going={over?.state === "saving"} />
        <NotSaved sentence={over?.state === "failed" ? over.sentence : ""} />
      </div>
      {found && found.two.waiting.length > 0 && (
        <>
          <h2>{words.two.waits(found.two.waiting.length)}</h2>
          {found.two.waiting.map((title) => (
            <p key={title} class="kv">
              <Said>{title}</Said>
            </p>
          ))}
        </>
      )}
    </>
  );
}
