// A hold: why, who, since when, whether anyone else has it, and clearing it.
import { overlayOf, save } from "../../acting";
import { idOf, titleOf } from "../../day_reads";
import { day_sheet, heardBy, numberOfShot } from "../../day_sheet";
import { record } from "../../day_signals";
import { useInView } from "../../in_view";
import { Caution, Empty, Head, HoldBlock, NotSaved } from "../../parts/blocks";
import { Said, stopped } from "../../parts/said";
import { Waiting } from "../../parts/slow";
import { link, recordLink } from "../../routing";
import { words } from "../../words";
import { PhotographsOf } from "../photograph/photographs_of";

/** Whether a hold has reached anyone; until the server names others, it says to use the radio. */
export const HoldReach = ({ ids }: { ids: string[] }) => {
  const heard = heardBy(ids);
  return heard === 0 ? <b>{words.hold.nobody}</b> : <span>{words.hold.heard(heard)}</span>;
};

export function HoldScreen({ id }: { id: string }) {
  const key = `hold/${id}`;
  const hold = day_sheet.value?.holds.find((one) => one.record === key);
  useInView(key, hold?.shot);
  if (!hold) {
    const is_known = record(key).value !== undefined;
    return (
      <>
        <Head number={words.raise.hold} />
        <Empty sentence={is_known ? words.hold.no_longer : words.record.none}>
          <a class="btn" href={link("history", ["hold", id])}>
            {words.record.history}
          </a>
        </Empty>
      </>
    );
  }
  const about = hold.shot ? numberOfShot(hold.shot) : hold.on ? titleOf(hold.on) : words.raise.on_day;
  const over = overlayOf(`${key}/cleared`);
  const clear = () =>
    save(
      [{ kind: "hold", record: idOf(key), set: { cleared: hold.value_if_cleared }, painted: hold.painted }],
      words.hold.clearing_it,
    );
  return (
    <>
      <Head number={words.raise.hold} name={about} />
      <div class="line">
        <HoldBlock word={hold.type === "watch" ? words.hold.watch : words.hold.word} about={about}>
          <Said>{stopped(hold.line)}</Said> <HoldReach ids={hold.ids} />
        </HoldBlock>
        <Caution caution={hold.caution ?? null} />
      </div>
      {hold.again.length > 0 && (
        <p class="line">
          <b class="act">{words.hold.again}</b> <Said>{hold.again.join(" ")}</Said>
        </p>
      )}
      {hold.on && (
        <a class="row plain" href={recordLink(hold.on)}>
          <span class="t">
            <Said>{titleOf(hold.on)}</Said>
          </span>
        </a>
      )}
      <PhotographsOf record={key} />
      <div class="line">
        {hold.waiting ? (
          <b>{words.hold.clearing}</b>
        ) : (
          <>
            <span class="n">{words.hold.only_heads}</span>
            <div class="btns">
              <button type="button" class="btn" onClick={clear}>
                {words.hold.clear}
              </button>
            </div>
          </>
        )}
        <Waiting sentence={words.wait.saving} is_going={over?.state === "saving"} />
        <NotSaved sentence={over?.state === "failed" ? over.sentence : ""} />
      </div>
      <div class="actions btns">
        <a class="btn" href={link("record", ["hold", id])}>
          {words.record.edit}
        </a>
        <a class="btn" href={link("history", ["hold", id])}>
          {words.record.history}
        </a>
      </div>
    </>
  );
}
