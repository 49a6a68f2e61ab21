// Solved backwards: what may move, what must hold; the rules try it and say which of the wishes each answer holds.
import { useState } from "preact/hooks";
import { useSlow } from "../../asked";
import { idOf, type ShotNow, titleOf } from "../../day_reads";
import { ask } from "../../engine/client";
import { fieldNamed } from "../../kinds_table";
import { Caution, Fold, Progress, Refusal } from "../../parts/blocks";
import { Said, unbroken } from "../../parts/said";
import { units } from "../../preferences";
import type { Solution, Solved } from "../../sheet_types_of_light";
import { words } from "../../words";
import { Choices, Chooser } from "../record/chosen_entry";
import { readTyped } from "../record/typed";
import { recordsFor, valueNow } from "./ask_shot";
import { MissingRows } from "./figure_rows";
import { tryActs } from "./scratch";

const w = words.sheet.what_if;
const MAY = ["dimmer", "distance", "layers", "stop", "index"];
/** A wish and a field of the table that reads a figure of its kind. */
const HOLDS: { name: "level_stops" | "ratio" | "softness_deg"; kind: string; field: string }[] = [
  { name: "level_stops", kind: "level", field: "wanted_stops" },
  { name: "ratio", kind: "shot", field: "wanted_ratio" },
  { name: "softness_deg", kind: "source", field: "beam_deg" },
];

type Typed = { [name: string]: string };

/** The wishes as figures, or why one cannot be read. */
async function readHold(typed: Typed): Promise<{ hold: { [name: string]: number }; refused: string }> {
  const hold: { [name: string]: number } = {};
  for (const { name, kind, field: field_name } of HOLDS) {
    const field = fieldNamed(kind, field_name);
    if (!field || !typed[name]?.trim()) continue;
    const { value, refused } = await readTyped(kind, field, typed[name]);
    if (refused || !Array.isArray(value))
      return { hold, refused: `${w[name]}: ${refused || w.numbers_only}` };
    hold[name] = Number(value[0]);
  }
  return { hold, refused: "" };
}

function OneSolution({ one, onTake }: { one: Solution; onTake: () => void }) {
  return (
    <button type="button" class="row plain" disabled={one.acts.length === 0} onClick={onTake}>
      <span>
        <span class="t">
          <Said>{unbroken(one.title)}</Said>
        </span>
        {one.holds.map(({ what, shown, is_held }) => (
          <span key={what} class="n">
            <b>{is_held ? w.held : w.not_held}</b> {w.whats[what] ?? what}: {unbroken(shown)}
          </span>
        ))}
        <span class="n">
          <Said>
            {unbroken(
              words.join_words([
                one.key_to_fill && `${words.shot.key_to_fill} ${one.key_to_fill}`,
                one.softness,
                ...one.costs,
              ]),
            )}
          </Said>
          {one.acts.length > 0 && <span class="do"> {w.take}</span>}
        </span>
      </span>
      <Caution caution={one.caution} />
    </button>
  );
}

export function SolveBackwards({ found }: { found: ShotNow }) {
  const levels = found.sheet.reads.filter(
    (key) => key.startsWith("level/") && valueNow(key, "shot") === found.shot && valueNow(key, "on") !== "no",
  );
  const first = levels.find((key) => valueNow(key, "role") === "key") ?? levels[0] ?? "";
  const [level, setLevel] = useState(first);
  const [may, setMay] = useState(["dimmer", "distance"]);
  const [typed, setTyped] = useState<Typed>({});
  const [solved, setSolved] = useState<Solved | null>(null);
  const [failed, setFailed] = useState("");
  const [is_busy, setBusy] = useState(false);
  const is_slow = useSlow(is_busy);
  const solve = async () => {
    setSolved(null);
    if (!may.length) return setFailed(w.need_may);
    const { hold, refused } = await readHold(typed);
    if (refused) return setFailed(refused);
    setFailed("");
    setBusy(true);
    const question = {
      do: "solve",
      shot: found.shot,
      level,
      may,
      hold,
      records: recordsFor(found),
      units: units.value,
    };
    try {
      const answer = await ask(question);
      if (answer.ok) setSolved(answer.solved as Solved);
      else setFailed(answer.sentence);
    } catch (error) {
      setFailed(String(error));
    } finally {
      setBusy(false);
    }
  };
  if (!levels.length) return null;
  return (
    <Fold title={w.solve}>
      <form
        class="form"
        onSubmit={(event) => {
          event.preventDefault();
          void solve();
        }}
      >
        <div class="entry">
          <label class="name" for="solve-source">
            {w.source}
          </label>
          <Chooser
            id="solve-source"
            options={levels.map((key) => ({ value: key, word: titleOf(key) }))}
            chosen={level}
            onChoose={setLevel}
          />
        </div>
        <div class="entry">
          <Choices
            label={w.may}
            options={MAY.map((value) => ({ value, word: w.may_words[value] ?? value }))}
            chosen={may}
            is_many
            onChoose={setMay}
          />
        </div>
        {HOLDS.map(({ name }) => (
          <div key={name} class="entry">
            <label class="name" for={`solve-${name}`}>
              {w[name]}
              <small>{w.may_stay_empty}</small>
            </label>
            <input
              id={`solve-${name}`}
              type="text"
              autocomplete="off"
              value={typed[name] ?? ""}
              onInput={(event) => {
                const value = event.currentTarget.value;
                setTyped((before) => ({ ...before, [name]: value }));
              }}
            />
          </div>
        ))}
        <div class="actions">
          <div class="btns">
            <button type="submit" class="btn" disabled={is_busy}>
              {w.find}
            </button>
          </div>
          <Refusal sentence={failed} />
        </div>
      </form>
      <Progress sentence={w.solving} is_slow={is_slow} />
      {solved && (
        <p class="para" role="status">
          <Said>{solved.line}</Said>
        </p>
      )}
      {solved?.solutions.map((one) => (
        <OneSolution
          key={one.title}
          one={one}
          onTake={() => {
            tryActs(found.shot, one.title, one.acts);
            scrollTo(0, 0);
          }}
        />
      ))}
      <MissingRows missing={solved?.missing ?? []} shot={idOf(found.sheet.shot.record)} />
    </Fold>
  );
}
