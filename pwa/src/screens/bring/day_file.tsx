// The day as one file: handed to another phone without a server, or taken in here. What is whole, the rules say.
import { useState } from "preact/hooks";
import { membership } from "../../day_signals";
import { dayFile, readDayFile, takeDayFile } from "../../engine/client";
import type { DayFile } from "../../engine/contract";
import { Head } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { useGoing, Waiting } from "../../parts/slow";
import { words } from "../../words";
import { FileEntry } from "./bring";

const w = words.bring.day;
const SHOWN_FAULTS = 6;
/** Whole, and yet not for this phone: no damage. */
const LEFT_OUT = ["not_for_this_phone", "waits_for_server"];

const fileName = (): string =>
  `${(membership.value?.day_title ?? "day").replace(/[^\p{L}\p{N}]+/gu, "-")}.tailslate.json`;

function HandOver() {
  const { is_going, failed, run } = useGoing();
  const [told, setTold] = useState("");
  const made = async () => {
    const file = new File([await dayFile()], fileName(), { type: "application/json" });
    setTold(w.saved(file.name, String(Math.ceil(file.size / 1024))));
    return file;
  };
  const keep = async () => {
    const file = await made();
    const address = URL.createObjectURL(file);
    Object.assign(document.createElement("a"), { href: address, download: file.name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000); // the browser is still writing it for a moment
  };
  const share = async () => {
    const file = await made();
    await navigator.share({ files: [file], title: file.name }).catch((error: unknown) => {
      if (!(error instanceof DOMException && error.name === "AbortError")) throw error; // the person thought better of it
    });
  };
  const probe = { files: [new File([""], "day.json", { type: "application/json" })] };
  const can_share = navigator.canShare?.(probe) ?? false;
  return (
    <section>
      <h2>{w.out}</h2>
      <p class="para">{w.more}</p>
      <div class="actions">
        <div class="btns">
          {can_share && (
            <button type="button" class="btn solid" disabled={is_going} onClick={() => void run(share)}>
              {w.share}
            </button>
          )}
          <button type="button" class="btn" disabled={is_going} onClick={() => void run(keep)}>
            {w.save}
          </button>
        </div>
        <Waiting sentence={words.wait.working} is_going={is_going} />
        <p role="status">
          <Said>{failed || told}</Said>
        </p>
      </div>
    </section>
  );
}

function Damage({ read }: { read: DayFile }) {
  const damaged = read.faults.filter(({ code }) => !LEFT_OUT.includes(code));
  const more = read.faults.length - SHOWN_FAULTS;
  return (
    <>
      {(damaged.length > 0 || read.is_cut) && (
        <p class="line">
          <b>{w.damaged}</b>
          {read.is_cut && <span class="n">{w.cut}</span>}
        </p>
      )}
      {read.faults.slice(0, SHOWN_FAULTS).map((fault) => (
        <p key={`${fault.part} ${fault.place}`} class="line">
          {w.part(fault.part, fault.place)}
          <span class="n">
            <Said>{fault.sentence}</Said>
          </span>
        </p>
      ))}
      {more > 0 && <p class="line">{w.more_faults(more)}</p>}
    </>
  );
}

function TakeIn() {
  const { is_going, failed, run } = useGoing();
  const [text, setText] = useState("");
  const [read, setRead] = useState<DayFile | null>(null);
  const [told, setTold] = useState("");
  const look = async (file: File) => {
    setRead(null);
    setTold("");
    const chosen = await file.text();
    setText(chosen);
    const answer = await readDayFile(chosen);
    if ("refused" in answer) setTold(`${w.refused} ${answer.refused.sentence}.`);
    else setRead(answer.read);
  };
  const take = (only_whole: boolean) => async () => {
    const answer = await takeDayFile(text, only_whole);
    setRead(null);
    setTold("refused" in answer ? `${w.refused} ${answer.refused.sentence}.` : w.taken(answer.taken.fresh));
  };
  const is_damaged = read && (read.is_cut || read.faults.some(({ code }) => !LEFT_OUT.includes(code)));
  return (
    <section>
      <h2>{w.in}</h2>
      <p class="para">{w.in_more}</p>
      <FileEntry
        label={w.choose}
        accept=".json,application/json"
        onFile={(file) => void run(() => look(file))}
      />
      <Waiting sentence={w.reading} is_going={is_going} />
      <p class="para" role="status">
        <Said>{failed || told}</Said>
      </p>
      {read && (
        <>
          <p class="line">
            <b>
              <Said>{w.holds(read.title, read.known, read.fresh)}</Said>
            </b>
          </p>
          <Damage read={read} />
          <div class="actions">
            {read.fresh === 0 ? (
              <p>{w.nothing}</p>
            ) : (
              <div class="btns">
                <button
                  type="button"
                  class={is_damaged ? "btn" : "btn solid"}
                  disabled={is_going}
                  onClick={() => void run(take(!!is_damaged))}
                >
                  {is_damaged ? w.only_whole(read.fresh) : w.take(read.fresh)}
                </button>
              </div>
            )}
          </div>
        </>
      )}
    </section>
  );
}

export function DayFileScreen() {
  return (
    <>
      <Head number={w.title} />
      <HandOver />
      <TakeIn />
    </>
  );
}
