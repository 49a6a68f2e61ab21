// A meter reading as the meter shows it: T-stop and tenths, footcandles, lux, or stops from the target. The rules read it.
import { useEffect, useState } from "preact/hooks";
import { save } from "../../acting";
import { useAnswer } from "../../asked";
import { timeOfDay } from "../../clock";
import { type ShotNow, shots_in_order } from "../../day_reads";
import { ask, newId } from "../../engine/client";
import type { Value } from "../../engine/contract";
import { fieldNamed } from "../../kinds_table";
import { Head, NotSaved } from "../../parts/blocks";
import { LevelFigure } from "../../parts/figures";
import { Said } from "../../parts/said";
import { units } from "../../preferences";
import { link, onward } from "../../routing";
import type { FieldRow, Missing } from "../../sheet_types";
import { words } from "../../words";
import { Choices, Chooser, optionsOf } from "../record/chosen_entry";
import { recordsFor } from "./ask_shot";
import { MissingRows } from "./figure_rows";

const w = words.sheet.meter;
const PAUSE_MS = 250;
const WAYS = ["lx", "fc", "stop", "from_target"];

type MeterRead = {
  set: { [field: string]: Value };
  shown: string;
  from_target: { shown: string } | null;
  missing: Missing[];
};

/** The text a moment after the last key. */
function usePause(text: string): string {
  const [paused, setPaused] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setPaused(text), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return paused;
}

async function keep(found: ShotNow, point: string, role: string, set: MeterRead["set"]) {
  const answer = await ask({
    do: "taken_for",
    shot: found.shot,
    point: `point/${point}`,
    role: role || "all",
    records: recordsFor(found),
  });
  if (!answer.ok) throw new Error(answer.sentence);
  const taken = answer.set as { [field: string]: Value };
  const about = { shot: found.shot, point, role: role || "all", taken_time: timeOfDay(Date.now()) };
  return save([{ kind: "reading", record: newId(), set: { ...about, ...set, ...taken } }], w.title);
}

function useReading(found: ShotNow | undefined, about: URLSearchParams) {
  const [point, setPoint] = useState(about.get("point") ?? "");
  const [role, setRole] = useState(about.get("role") ?? "");
  const [typed, setTyped] = useState("");
  const [way, setWay] = useState("lx");
  const [failed, setFailed] = useState("");
  const [is_saving, setSaving] = useState(false);
  const text = usePause(typed);
  const question = (said: string) => ({
    do: "read_meter",
    shot: found?.shot,
    typed: said,
    way,
    units: units.value,
    records: found ? recordsFor(found) : {},
  });
  const read = useAnswer<MeterRead>(found && text.trim() ? question(text) : null, [
    text,
    way,
    found?.summary.computed_ms,
    units.value,
  ]);
  const submit = async () => {
    if (!found || is_saving) return;
    setSaving(true);
    const goOn = onward();
    try {
      // What is kept is what is in the field now, not what was read a moment ago.
      const answer = await ask(question(typed));
      if (!answer.ok) return setFailed(answer.sentence);
      if (!point) return setFailed(w.choose_point);
      const saved = await keep(found, point, role, (answer as unknown as MeterRead).set);
      setFailed(saved.saved ? "" : (saved.reasons[0]?.sentence ?? words.save.no_answer));
      if (saved.saved) goOn(link("shot", [found.shot, "light"]));
    } catch (error) {
      setFailed(error instanceof Error ? error.message : words.save.no_answer);
    } finally {
      setSaving(false);
    }
  };
  return {
    point,
    setPoint,
    role,
    setRole,
    typed,
    setTyped,
    way,
    setWay,
    text,
    read,
    failed,
    is_saving,
    submit,
  };
}

const PointAndRole = (props: {
  of: FieldRow;
  at: FieldRow;
  role: string;
  point: string;
  onRole: (role: string) => void;
  onPoint: (point: string) => void;
}) => (
  <>
    <div class="entry">
      <Choices
        label={w.of}
        options={optionsOf(props.of)}
        chosen={props.role ? [props.role] : []}
        onChoose={([one]) => props.onRole(one ?? "")}
      />
    </div>
    <div class="entry">
      <label class="name" for="meter-point">
        {w.at}
      </label>
      <Chooser id="meter-point" options={optionsOf(props.at)} chosen={props.point} onChoose={props.onPoint} />
    </div>
  </>
);

/** Null when the shot is not on this phone: then the ordinary form takes the reading. */
export function ReadMeter({ about, shot }: { about: URLSearchParams; shot: string }) {
  const found = shots_in_order.value.find((one) => one.shot === shot);
  const form = useReading(found, about);
  const [of, at] = [fieldNamed("reading", "role"), fieldNamed("reading", "point")];
  const { answer, refusal } = form.read;
  const is_typed = form.text.trim() !== "";
  const told = is_typed && !refusal ? answer : null;
  return (
    <>
      <Head
        number={found?.sheet.shot.number}
        name={w.title}
        lines={[found?.sheet.shot.target?.sentence ?? ""]}
      />
      <form
        class="form"
        onSubmit={(event) => {
          event.preventDefault();
          void form.submit();
        }}
      >
        <div class="entry">
          <label class="name" for="meter-typed">
            {w.title}
            <small>{w.example}</small>
          </label>
          <input
            id="meter-typed"
            class="figure"
            type="text"
            autocomplete="off"
            enterkeyhint="done"
            aria-describedby="meter-told"
            aria-invalid={is_typed && refusal ? (true as const) : undefined}
            value={form.typed}
            onInput={(event) => form.setTyped(event.currentTarget.value)}
          />
          <span class={is_typed && refusal ? "told refused" : "told"} id="meter-told" aria-live="polite">
            {is_typed && refusal ? refusal : told && <Said>{words.join_words([told.shown])}</Said>}
          </span>
          {told?.from_target && <LevelFigure shown={told.from_target.shown} kind="reading" />}
        </div>
        {told && <MissingRows missing={told.missing} shot={shot} />}
        <div class="entry">
          <Choices
            label={w.way}
            options={WAYS.map((value) => ({ value, word: w.ways[value] ?? value }))}
            chosen={[form.way]}
            onChoose={([one]) => form.setWay(one ?? "lx")}
          />
        </div>
        {of && at && (
          <PointAndRole
            of={of}
            at={at}
            role={form.role}
            point={form.point}
            onRole={form.setRole}
            onPoint={form.setPoint}
          />
        )}
        <p class="para sub">{w.more}</p>
        <div class="actions">
          <div class="btns">
            <button type="submit" class="btn solid" disabled={form.is_saving}>
              {w.save}
            </button>
          </div>
          <NotSaved sentence={form.failed} />
        </div>
      </form>
    </>
  );
}
