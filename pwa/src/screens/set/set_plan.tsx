// The set from above on the Set screen, as one shot sees it.
import { useState } from "preact/hooks";
import { shots_in_order } from "../../day_reads";
import { record, shown } from "../../day_signals";
import { link, place } from "../../routing";
import { words } from "../../words";
import { currentShot } from "../frame/foot";
import { Chooser } from "../record/chosen_entry";
import { PlanBlock } from "../shot/plan";

const w = words.sheet.plan;

export function SetPlan() {
  const all = shots_in_order.value;
  const [chosen, setChosen] = useState("");
  const found = all.find(({ shot }) => shot === (chosen || currentShot(place.value))) ?? all[0];
  if (!found) return null;
  const scene = shown(record(found.sheet.shot.record).value?.scene);
  const { number, title } = found.sheet.shot;
  return (
    <>
      <div class="entry">
        <label class="name" for="plan-shot">
          {w.of_shot}
        </label>
        <Chooser
          id="plan-shot"
          options={all.map(({ shot, sheet }) => ({
            value: shot,
            word: `${sheet.shot.number} ${sheet.shot.title}`,
          }))}
          chosen={found.shot}
          onChoose={setChosen}
        />
      </div>
      <PlanBlock
        key={found.shot}
        scene={typeof scene === "string" ? scene : ""}
        shot={found.shot}
        frame={found.sheet.frame}
      />
      <div class="actions btns">
        <a class="btn" href={link("shot", [found.shot, "frame"])}>
          {w.whole(`${number} ${title}`)}
        </a>
      </div>
    </>
  );
}
