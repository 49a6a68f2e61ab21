// A place by distance and angle from something that has one: a camera, a face, another stand.
import { useState } from "preact/hooks";
import { save } from "../../acting";
import { gather, idOf, kindOf, titleOf } from "../../day_reads";
import { recordNow, record as recordSignal, shown } from "../../day_signals";
import { ask } from "../../engine/client";
import type { Value } from "../../engine/contract";
import { Fold, NotSaved } from "../../parts/blocks";
import { units } from "../../preferences";
import { words } from "../../words";
import { Chooser } from "./chosen_entry";

const w = words.build;
const PLACED = ["setup", "point", "source", "rig", "layer", "dressing", "mark"];

export function PlaceBy({ record }: { record: string }) {
  const [from, setFrom] = useState("");
  const [distance, setDistance] = useState("");
  const [angle, setAngle] = useState("");
  const [refused, setRefused] = useState("");
  const things = Object.entries(gather(PLACED)).filter(
    ([key, fields]) => key !== record && shown(fields.x_m) && shown(fields.y_m),
  );
  recordSignal(record).value; // followed: what was just placed can be placed from
  if (!things.length) return null;
  const place = async () => {
    const records = { [from]: recordNow(from) };
    const answer = await ask({ do: "place", from, distance, angle, records, units: units.value });
    if (!answer.ok) return setRefused(answer.sentence);
    const act = { kind: kindOf(record), record: idOf(record), set: answer.set as { [field: string]: Value } };
    const saved = await save([act], w.moved(titleOf(record)));
    setRefused(saved.saved ? "" : (saved.reasons[0]?.sentence ?? words.save.no_answer));
  };
  const input = (id: string, label: string, value: string, set: (text: string) => void, more = "") => (
    <div class="entry">
      <label class="name" for={id}>
        {label}
      </label>
      <input
        id={id}
        class="figure"
        autocomplete="off"
        value={value}
        onInput={(event) => set(event.currentTarget.value)}
      />
      <span class="told">{more}</span>
    </div>
  );
  return (
    <Fold title={w.by_angle}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void place();
        }}
      >
        <div class="entry">
          <label class="name" for="place-from">
            {w.from}
          </label>
          <Chooser
            id="place-from"
            options={things.map(([key]) => ({ value: key, word: titleOf(key) }))}
            chosen={from}
            onChoose={setFrom}
          />
        </div>
        {input("place-distance", w.distance, distance, setDistance)}
        {input("place-angle", w.angle, angle, setAngle, w.angle_more)}
        <div class="actions">
          <button type="submit" class="btn" disabled={!from || !distance}>
            {w.place}
          </button>
          <NotSaved sentence={refused} />
        </div>
      </form>
    </Fold>
  );
}
