// This phone: what stands behind the three facts, how this screen looks, whose lists it shows, and leaving the day.
import { useState } from "preact/hooks";
import { ago, timeOfDay } from "../../clock";
import { my_departments, personName, textOf, titleOf, unsent_lines } from "../../day_reads";
import { facts, membership } from "../../day_signals";
import { build, exchangeNow, report } from "../../engine/client";
import { useInView } from "../../in_view";
import { fieldNamed, kinds_table } from "../../kinds_table";
import { Fold, Head, HoldBlock } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said } from "../../parts/said";
import { useGoing, Waiting } from "../../parts/slow";
import { pictures_now } from "../../pictures_now";
import { chosen_departments, MODES, mode, units } from "../../preferences";
import { link, recordLink } from "../../routing";
import { takeUpdate, update_offered } from "../../updates";
import { words } from "../../words";
import { RoomForPictures } from "../photograph/room";
import { Choices } from "../record/chosen_entry";
import { ForgetDay } from "./forget";
import { LetJoin } from "./let_join";
import { MakeNextDay, OtherDays } from "./next_day";

const w = words.phone;
const UNITS = ["metric", "imperial"] as const;
const SHOWN_UNSENT = 12;
const CLOCK_MS = 120_000;

function Unsent() {
  const known = facts.value;
  const { is_going, failed, run } = useGoing();
  const oldest = known?.oldest_unsent_ms;
  const { unsent: pictures } = pictures_now.value;
  return (
    <>
      <div>
        <span class="v">{known ? known.unsent + pictures : "–"}</span>
        <span>
          <b>{w.unsent}</b>
          <span class="n">
            {pictures > 0 && `${words.photograph.unsent_count(pictures)}. `}
            {oldest ? w.oldest(timeOfDay(oldest)) : known?.unsent === 0 && !pictures ? w.all_sent : ""}
          </span>
        </span>
      </div>
      <div>
        <span class="v">{known?.heard_ms ? timeOfDay(known.heard_ms) : "–"}</span>
        <span>
          <b>{w.last_heard}</b>
          <span class="n">
            {known?.heard_ms ? `${ago(known.heard_ms)}. ${w.tries}` : `${w.never_heard}. ${w.tries}`}
          </span>
        </span>
      </div>
      <div class="wide-cell">
        <span class="btns">
          <button type="button" class="btn" disabled={is_going} onClick={() => void run(exchangeNow)}>
            {is_going || known?.exchanging ? `${words.wait.sending} …` : w.exchange}
          </button>
        </span>
        {failed && <span class="n">{failed}</span>}
      </div>
    </>
  );
}

function Kept() {
  const known = facts.value;
  if (!known) return null;
  const megabytes = known.bytes === null ? "" : w.megabytes((known.bytes / 1e6).toFixed(1));
  const size = megabytes ? w.size(megabytes, known.acts) : "";
  if (known.kept === "memory") {
    return (
      <div class="wide-cell">
        <HoldBlock word={w.memory}>{w.memory_more}</HoldBlock>
      </div>
    );
  }
  const is_kept = known.kept === "kept";
  return (
    <div>
      <span class="v">
        <Mark name={is_kept ? "done" : "unk"} />
      </span>
      <span>
        <b>{is_kept ? w.kept : w.stored}</b>
        <span class="n">
          {is_kept ? w.kept_more : w.stored_more} {size}
        </span>
      </span>
    </div>
  );
}

function UnsentList() {
  const lines = unsent_lines.value;
  if (!lines.length) return null;
  return (
    <Fold title={w.unsent} count={lines.length} is_open={lines.length <= SHOWN_UNSENT}>
      {lines.map(({ id, record, at_ms, set }) => {
        const kind = record.slice(0, record.indexOf("/"));
        const fields = Object.keys(set).map((field) => fieldNamed(kind, field)?.label ?? field);
        return (
          <a key={id} class="kv tall" href={recordLink(record)}>
            <span>
              <Said>{titleOf(record)}</Said>
              <span class="n">{fields.join(", ")}</span>
            </span>
            <span class="sub">{timeOfDay(at_ms)}</span>
          </a>
        );
      })}
    </Fold>
  );
}

function RefusedList() {
  const refused = facts.value?.refused ?? [];
  if (!refused.length) return null;
  return (
    <Fold title={w.refused} count={refused.length} is_open>
      <p class="para sub">{w.refused_more}</p>
      {refused.map((one) => (
        <a key={one.id} class="line" href={recordLink(one.record)}>
          <b>
            <Said>{one.sentence}</Said>
          </b>
          <span class="n">
            <Said>{titleOf(one.record)}</Said>
          </span>
        </a>
      ))}
    </Fold>
  );
}

function Report() {
  const [copied, setCopied] = useState("");
  const [by_hand, setByHand] = useState("");
  const { is_going, failed, run } = useGoing();
  const copy = async () => {
    const text = await report();
    try {
      await navigator.clipboard.writeText(text);
      setCopied(w.copied);
    } catch {
      setByHand(text); // no clipboard on plain http, or not allowed: the text itself is shown
    }
  };
  return (
    <div class="line">
      <span class="n">{w.copy_more}</span>
      <div class="btns">
        <button type="button" class="btn" disabled={is_going} onClick={() => void run(copy)}>
          {w.copy_report}
        </button>
      </div>
      <Waiting sentence={words.wait.working} is_going={is_going} />
      <p aria-live="polite">{failed || copied}</p>
      {by_hand && (
        <>
          <p>{w.copy_by_hand}</p>
          <textarea class="copy-out" readOnly aria-label={w.copy_report} value={by_hand} />
        </>
      )}
    </div>
  );
}

export function PhoneScreen() {
  useInView("", "");
  const member = membership.value;
  const known = facts.value;
  const role = member ? textOf(`person/${member.person}`, "role") : "";
  const ahead_ms = known?.clock_ahead_ms ?? 0;
  return (
    <>
      <Head
        number={w.title}
        name={role}
        lines={[member?.day_title, member ? personName(member.person) : ""]}
      />
      {update_offered.value && (
        <div class="line">
          <b>{w.update}</b>
          <span class="n">{w.update_more}</span>
          <div class="btns">
            <button type="button" class="btn go" onClick={takeUpdate}>
              {w.update_do}
            </button>
          </div>
        </div>
      )}
      <div class="three">
        <Unsent />
        <Kept />
      </div>
      {known?.notices.map(({ code, sentence }) => (
        <p key={code} class="line">
          <b>{sentence}</b>
        </p>
      ))}
      {Math.abs(ahead_ms) > CLOCK_MS && <p class="line">{w.clock(Math.round(ahead_ms / 60_000))}</p>}
      <RefusedList />
      <UnsentList />
      <div class="entry">
        <Choices
          label={w.modes}
          options={MODES.map((value) => ({ value, word: w.mode[value] }))}
          chosen={[mode.value]}
          onChoose={([one]) => {
            mode.value = MODES.find((name) => name === one) ?? mode.value;
          }}
        />
        <span class="told">{w.mode_tip}</span>
      </div>
      <div class="entry">
        <Choices
          label={w.units}
          options={UNITS.map((value) => ({ value, word: w.unit[value] }))}
          chosen={[units.value]}
          onChoose={([one]) => {
            units.value = one === "imperial" ? "imperial" : "metric";
          }}
        />
      </div>
      <div class="entry">
        <Choices
          label={w.departments}
          is_many
          options={kinds_table.value.departments.map(({ name, label }) => ({ value: name, word: label }))}
          chosen={my_departments.value}
          onChoose={(chosen) => {
            const order = kinds_table.value.departments.map(({ name }) => name);
            chosen_departments.value = order.filter((name) => chosen.includes(name));
          }}
        />
        <span class="told">{w.departments_more}</span>
      </div>
      <RoomForPictures />
      <a class="row plain" href={link("tour")}>
        <span class="t">{words.help.tour.open}</span>
      </a>
      <a class="row plain" href={link("bring", ["day"])}>
        <b>{words.bring.day.title}</b>
      </a>
      <LetJoin />
      <MakeNextDay />
      <OtherDays />
      <Report />
      <ForgetDay />
      <p class="line sub">
        {w.versions(build, known?.rules ?? null)}{" "}
        <a class="under" href="/notices.txt" target="_blank" rel="noreferrer">
          {w.licences}
        </a>
      </p>
    </>
  );
}
