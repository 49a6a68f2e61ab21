// One photograph in full: what it shows, of what, by whom, whether it is sent and kept.
import { useState } from "preact/hooks";
import { ago } from "../../clock";
import { textOf, titleOf } from "../../day_reads";
import { presenceNow, record as recordSignal } from "../../day_signals";
import { picture, pinPicture } from "../../engine/client";
import { useInView } from "../../in_view";
import { departmentLabel, fieldNamed } from "../../kinds_table";
import { Empty, Head } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { mode } from "../../preferences";
import { link, recordLink } from "../../routing";
import { words } from "../../words";
import { RemoveRecord } from "../record/remove_record";
import { TypedEntry } from "../record/typed_entry";
import { takenBy } from "./photographs_of";
import { usePicture } from "./use_picture";

const w = words.photograph;
const CAN_FETCH = ["not_here", "no_signal", "damaged", "phone_full"];
const nothing = (): void => undefined;

function FullPicture({ digest, says }: { digest: string; says: string }) {
  const seen = usePicture(digest, true);
  const [is_coloured, setColoured] = useState(false);
  if (!seen) return null;
  const looks = `picture${is_coloured ? " coloured" : ""}`;
  return (
    <>
      {seen.url && (
        <span class={looks}>
          <img src={seen.url} alt={says || w.title} />
        </span>
      )}
      <div class="line" role="status">
        {!seen.is_full && <b>{w.state[seen.state]}</b>}
        {seen.refused && (
          <b>
            {w.refused} <Said>{seen.refused === "damaged" ? w.damaged_here : seen.refused}</Said>{" "}
            {w.here_only}
          </b>
        )}
        <span class="n">
          {seen.state === "whole" && !seen.refused ? (seen.is_sent ? w.sent : w.unsent) : ""}
        </span>
      </div>
      <div class="line">
        <div class="btns">
          {CAN_FETCH.includes(seen.state) && (
            <button type="button" class="btn" onClick={() => void picture(digest, true, true)}>
              {w.again}
            </button>
          )}
          {seen.url && mode.value === "night" && !is_coloured && (
            <button type="button" class="btn" onClick={() => setColoured(true)}>
              {w.colours}
            </button>
          )}
          {seen.is_full && (
            <button type="button" class="btn" onClick={() => void pinPicture(digest, !seen.is_pinned)}>
              {seen.is_pinned ? w.unpin : w.pin}
            </button>
          )}
        </div>
        {seen.is_full && <span class="n">{seen.is_pinned ? w.unpin_more : w.pin_more}</span>}
      </div>
    </>
  );
}

export function PhotographScreen({ id }: { id: string }) {
  const key = `photograph/${id}`;
  const fields = recordSignal(key).value;
  const says = textOf(key, "says");
  const of = textOf(key, "of");
  const field = fieldNamed("photograph", "says");
  const { department, at_ms } = takenBy(key);
  useInView(of || key, of.startsWith("shot/") ? of.slice("shot/".length) : "");
  if (!fields) {
    return (
      <>
        <Head number={w.title} />
        <Empty sentence={words.record.none} />
      </>
    );
  }
  const is_removed = presenceNow(key) === "removed";
  return (
    <>
      <Head number={w.title} name={says} lines={[departmentLabel(department), ago(at_ms)]} />
      {!is_removed && <FullPicture digest={textOf(key, "digest")} says={says} />}
      {of && (
        <a class="row plain" href={recordLink(of)}>
          <span class="t">
            <Said>{titleOf(of)}</Said>
          </span>
        </a>
      )}
      {field && !is_removed && (
        <div class="form">
          <TypedEntry record={key} field={field} is_wanted={false} onBegin={nothing} onSaved={nothing} />
        </div>
      )}
      <div class="actions btns">
        <a class="btn" href={link("history", ["photograph", id])}>
          {words.record.history}
        </a>
      </div>
      <RemoveRecord record={key} is_removed={is_removed} />
    </>
  );
}
