// What if: a scratch copy of the shot. Change what may be changed, see what it would come to, then apply it or throw it away.
import { useEffect, useState } from "preact/hooks";
import { useSlow } from "../../asked";
import { idOf, kindOf, type ShotNow, titleOf } from "../../day_reads";
import { record as recordSignal } from "../../day_signals";
import { fieldNamed, kindNamed } from "../../kinds_table";
import { Empty, Fold, Head, NotSaved, Progress, saidOnce } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said } from "../../parts/said";
import { link, onward } from "../../routing";
import type { Caution as CautionWords, Readiness, Sheet } from "../../sheet_types";
import { words } from "../../words";
import { Chooser } from "../record/chosen_entry";
import { useShown } from "../record/shown_value";
import { readTyped } from "../record/typed";
import { useOfShot, valueNow } from "./ask_shot";
import { ValueRow } from "./figure_rows";
import { actsOf, scratchOf, takeOff, throwAway, tryValue } from "./scratch";
import { SolveBackwards } from "./solve";
import { tryOut } from "./tried";

const w = words.sheet.what_if;

/** What may be tried, by kind: what people move, dim, swap or set. */
const FIELDS: { [kind: string]: string[] } = {
  level: ["distance_m", "output_ratio", "dimmer_percent", "off_axis_deg"],
  shot: ["t_stop", "exposure_index", "shutter_angle_deg", "frame_rate_per_s"],
  setup: ["lens_mm", "camera_distance_m", "camera_height_m", "pan_deg", "end_pan_deg"],
  layer: ["transmittance_ratio", "width_m", "height_m", "gap_m"],
  dressing: ["reflectance_ratio", "width_m", "depth_m"],
  rig: ["load_kg", "offset_m", "bags"],
};

/** The shot's own records of those kinds, in that order. */
function candidates(sheet: Sheet): string[] {
  const kinds = Object.keys(FIELDS);
  const own = sheet.reads.filter((key) => {
    const kind = kindOf(key);
    if (kind === "shot") return key === sheet.shot.record;
    if (kind === "level") return valueNow(key, "shot") === idOf(sheet.shot.record);
    return kinds.includes(kind);
  });
  return own.sort((a, b) => kinds.indexOf(kindOf(a)) - kinds.indexOf(kindOf(b)));
}

/** A set-up may be called like its shot, two sheets alike: what it is, or what it is of, tells them apart. */
function nameOf(key: string): string {
  const of = valueNow(key, "source");
  const more = kindOf(key) === "layer" && of ? titleOf(`source/${of}`) : "";
  return words.join_words([
    titleOf(key),
    kindOf(key) === "setup" ? (kindNamed("setup")?.label.toLowerCase() ?? "") : more,
  ]);
}

function TryOne({ found }: { found: ShotNow }) {
  const keys = candidates(found.sheet);
  const [on, setOn] = useState(keys[0] ?? "");
  const fields = (FIELDS[kindOf(on)] ?? []).flatMap((name) => fieldNamed(kindOf(on), name) ?? []);
  const [wanted, setWanted] = useState("");
  const field = fields.find(({ name }) => name === wanted) ?? fields[0];
  const [typed, setTyped] = useState("");
  const [refused, setRefused] = useState("");
  const cell = recordSignal(on).value?.[field?.name ?? ""];
  const now = useShown(kindOf(on), field?.name ?? "", cell?.[1][0]?.[1]);
  const submit = async () => {
    if (!field) return;
    const read = await readTyped(kindOf(on), field, typed);
    setRefused(read.refused);
    if (read.refused || read.value === null) return;
    tryValue(
      found.shot,
      `${titleOf(on)}, ${field.label}: ${read.shown || typed}`,
      on,
      field.name,
      read.value,
    );
    setTyped("");
  };
  return (
    <form
      class="form"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <div class="entry">
        <label class="name" for="what-if-on">
          {w.try_on}
        </label>
        <Chooser
          id="what-if-on"
          options={keys.map((key) => ({ value: key, word: nameOf(key) }))}
          chosen={on}
          onChoose={setOn}
        />
        <label class="name later" for="what-if-field">
          {w.what_of_it}
        </label>
        <Chooser
          id="what-if-field"
          options={fields.map(({ name, label }) => ({ value: name, word: label }))}
          chosen={field?.name ?? ""}
          onChoose={setWanted}
        />
        <label class="name later" for="what-if-value">
          {w.value}
          <small>{w.now(now)}</small>
        </label>
        <input
          id="what-if-value"
          class="figure"
          type="text"
          autocomplete="off"
          enterkeyhint="done"
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
        />
        <span class={refused ? "told refused" : "told"} aria-live="polite">
          {refused}
        </span>
        <div class="btns">
          <button type="submit" class="btn">
            {w.add}
          </button>
        </div>
      </div>
    </form>
  );
}

type Told = { label: string; shown: string; caution: CautionWords | null };
type Compared = { key: string; label: string; now: string; would: string; caution: CautionWords | null };

/** What a sheet says, as one figure a line: levels, contrast, spread, softness, lens, rigs. */
function figuresOf(sheet: Sheet): Map<string, Told> {
  const { light } = sheet;
  const found = new Map<string, Told>();
  const put = (key: string, label: string, shown: string | undefined, caution: CautionWords | null = null) =>
    found.set(key, { label, shown: shown ?? words.shot.unknown, caution });
  put("target", words.shot.target, sheet.shot.target?.sentence);
  for (const level of light.levels)
    put(`${level.point} ${level.role}`, level.title, level.stops?.shown ?? level.lux?.shown);
  if (light.key_to_fill) put("key_to_fill", words.shot.key_to_fill, light.key_to_fill.shown);
  if (light.spread) put("spread", words.sheet.light.spread, light.spread.shown);
  for (const one of light.softness ?? [])
    put(`soft ${one.level}`, `${words.sheet.light.softness}, ${one.title}`, one.line);
  for (const one of sheet.frame?.figures ?? []) put(`frame ${one.label} ${one.line}`, one.label, one.shown);
  for (const one of sheet.frame?.things ?? []) put(`thing ${one.record}`, one.title, one.word);
  for (const rig of sheet.rigging ?? []) {
    for (const { label, shown, word, caution } of rig.figures) {
      const said = word === shown ? word : words.join_words([word, shown]);
      put(`${rig.record} ${label}`, `${rig.title}, ${label}`, said, caution ?? rig.caution);
    }
  }
  return found;
}

function compare(now: Sheet, would: Sheet): Compared[] {
  const before = figuresOf(now);
  return [...figuresOf(would)].map(([key, { label, shown, caution }]) => ({
    key,
    label,
    now: before.get(key)?.shown ?? words.shot.unknown,
    would: shown,
    caution,
  }));
}

function WouldBe({ found }: { found: ShotNow }) {
  const scratch = scratchOf(found.shot);
  const acts = actsOf(scratch);
  const question = scratch.length ? { do: "what_if", acts } : null;
  const { answer, refusal, is_current } = useOfShot<{ sheet: Sheet; readiness: Readiness }>(found, question, [
    JSON.stringify(acts),
  ]);
  const is_slow = useSlow(scratch.length > 0 && !is_current && !refusal);
  const [failed, setFailed] = useState("");
  if (!scratch.length) return <Empty sentence={w.nothing} />;
  const apply = async () => {
    const goOn = onward();
    const why = await tryOut(found.shot, scratch.map(({ said }) => said).join("; "), acts);
    setFailed(why);
    if (why) return;
    throwAway(found.shot);
    goOn(link("shot", [found.shot, "light"]));
  };
  const all = answer && is_current ? compare(found.sheet, answer.sheet) : [];
  const moved = all.filter(({ now, would }) => now !== would);
  return (
    <>
      <h2>{w.tried}</h2>
      {scratch.map((one) => (
        <button key={one.said} type="button" class="row" onClick={() => takeOff(found.shot, one)}>
          <Mark name="chg" />
          <span>
            <span class="t">
              <Said>{one.said}</Said>
            </span>
            <span class="n">{w.take_off}</span>
          </span>
        </button>
      ))}
      <h2>{w.would}</h2>
      <Progress sentence={words.wait.working} is_slow={is_slow} />
      {refusal && <p class="para">{refusal}</p>}
      {saidOnce(moved).map((one) => (
        <ValueRow
          key={one.key}
          label={one.label}
          more={w.now(one.now)}
          shown={one.would}
          caution={one.caution}
        />
      ))}
      {all.length > moved.length && (
        <Fold title={w.same} count={all.length - moved.length}>
          {saidOnce(all.filter(({ now, would }) => now === would)).map((one) => (
            <ValueRow key={one.key} label={one.label} shown={one.would} caution={one.caution} />
          ))}
        </Fold>
      )}
      <div class="actions">
        <div class="btns">
          <button type="button" class="btn solid" onClick={() => void apply()}>
            {w.apply}
          </button>
          <button type="button" class="btn" onClick={() => throwAway(found.shot)}>
            {w.throw_away}
          </button>
        </div>
        <NotSaved sentence={failed} />
      </div>
    </>
  );
}

export function WhatIf({ found }: { found: ShotNow }) {
  useEffect(() => scrollTo(0, 0), []);
  return (
    <>
      <Head number={found.sheet.shot.number} name={w.title} />
      <p class="para sub">{w.more}</p>
      <TryOne found={found} />
      <WouldBe found={found} />
      <SolveBackwards found={found} />
      <div class="actions btns">
        <a class="btn" href={link("shot", [found.shot, "light"])}>
          {words.empty.back}
        </a>
      </div>
    </>
  );
}
