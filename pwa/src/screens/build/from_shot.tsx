// At the foot of a shot's part: the quick ways to add to it, and to make the next shot of it.
import { useState } from "preact/hooks";
import { numberOfShot } from "../../day_sheet";
import { NotSaved } from "../../parts/blocks";
import { go, link, onward } from "../../routing";
import { words } from "../../words";
import { make } from "./making";
import type { NowWhat } from "./now";

const w = words.build;
const NOW: { [tab: string]: NowWhat } = { light: "lamp", rig: "stand", glasses: "drink", marks: "mark" };

export function FromShot({ shot, tab }: { shot: string; tab: string }) {
  const [failed, setFailed] = useState("");
  const what = NOW[tab];
  const copy = async (is_reverse: boolean) => {
    const goOn = onward(go);
    const said = `${is_reverse ? w.reverse : w.copy}, ${numberOfShot(shot)}`;
    const made = await make({ do: "another_shot", shot, is_reverse }, said);
    setFailed(made.refused);
    if (made.shot) goOn(link("record", ["shot", made.shot]));
  };
  return (
    <>
      {what && (
        <div class="actions btns">
          <a class="btn" href={link("now", [what], { shot })}>
            {w.now[what]}
          </a>
          {(tab === "light" || tab === "rig") && (
            <a class="btn" href={link("start", [], { shot })}>
              {w.start}
            </a>
          )}
        </div>
      )}
      <div class="actions">
        <div class="btns">
          <button type="button" class="btn" onClick={() => void copy(false)}>
            {w.copy}
          </button>
          <button type="button" class="btn" onClick={() => void copy(true)}>
            {w.reverse}
          </button>
        </div>
        <p class="sub">{w.reverse_more}</p>
      </div>
      <NotSaved sentence={failed} />
    </>
  );
}
