// Taking a record off the day and bringing it back: both are edits, both are in the history.
import { useState } from "preact/hooks";
import { offerUndo, save } from "../../acting";
import { idOf, kindOf, titleOf } from "../../day_reads";
import { remove } from "../../engine/client";
import { NotSaved } from "../../parts/blocks";
import { Waiting } from "../../parts/slow";
import { words } from "../../words";

export function RemoveRecord({ record, is_removed }: { record: string; is_removed?: boolean }) {
  const [is_sure, setSure] = useState(false);
  const [failed, setFailed] = useState("");
  const [is_going, setGoing] = useState(false);
  const w = words.record;
  const takeOff = async () => {
    setSure(false);
    setGoing(true);
    const answer = await remove(record).catch(() => null);
    const sentence = answer?.saved === false ? answer.reasons[0]?.sentence : "";
    setGoing(false);
    setFailed(answer ? (sentence ?? "") : words.save.no_answer);
    if (!answer?.saved) return;
    const back = { kind: kindOf(record), record: idOf(record), set: { present: true } };
    offerUndo(w.remove, [{ ...back, painted: { present: [answer.id] } }]);
  };
  const bringBack = async () => {
    const answer = await save([{ kind: kindOf(record), record: idOf(record), set: { present: true } }]);
    setFailed(answer.saved ? "" : (answer.reasons[0]?.sentence ?? words.save.no_answer));
  };
  return (
    <div class="line">
      {is_removed && <b>{w.removed_by}</b>}
      {is_sure && (
        <>
          <b>{w.remove_sure(titleOf(record))}</b>
          <span class="n">{w.remove_more}</span>
        </>
      )}
      <div class="btns">
        {is_removed && (
          <button type="button" class="btn" onClick={bringBack}>
            {w.bring_back}
          </button>
        )}
        {!is_removed && (
          <button type="button" class="btn narrow" onClick={is_sure ? takeOff : () => setSure(true)}>
            {w.remove}
          </button>
        )}
        {is_sure && (
          <button type="button" class="btn" onClick={() => setSure(false)}>
            {w.keep}
          </button>
        )}
      </div>
      <Waiting sentence={words.wait.saving} is_going={is_going} />
      <NotSaved sentence={failed} />
    </div>
  );
}
