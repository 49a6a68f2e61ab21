// The next day, made on the server by whoever heads production; and the other days that this phone holds.
import { signal } from "@preact/signals";
import { useRef, useState } from "preact/hooks";
import { departmentsOf, personName, textOf } from "../../day_reads";
import { membership } from "../../day_signals";
import { join, newId, nextDay, openOther, otherDays } from "../../engine/client";
import type { NextDay } from "../../engine/contract";
import { Fold, Refusal } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { useGoing, Waiting } from "../../parts/slow";
import { goInstead, link } from "../../routing";
import { words } from "../../words";
import { deviceName } from "../join/install";

const w = words.next_day;
/** Kept while the app is open: the codes are shown once. */
const made = signal<NextDay | null>(null);

function Made({ day }: { day: NextDay }) {
  const [refused, setRefused] = useState("");
  const { is_going, failed, run } = useGoing();
  const person = membership.value?.person ?? "";
  const open = () =>
    run(async () => {
      const answer = await join({
        code: day.own.code,
        name: personName(person),
        role: textOf(`person/${person}`, "role"),
        departments: departmentsOf(person),
        device_name: deviceName(),
        person,
      });
      if (answer.joined) goInstead(link("day"));
      else setRefused(answer.reasons[0]?.sentence ?? words.save.no_answer);
    });
  return (
    <div class="line" role="status">
      <b>
        <Said>{w.made(day.day_title)}</Said>
      </b>
      <span class="n">{w.once}</span>
      {(["heads", "crew"] as const).map((whom) => (
        <a key={whom} class="kv tall" href={day[whom].link} target="_blank" rel="noreferrer">
          <span>
            {w.codes[whom]} <b>{day[whom].code}</b>
            <span class="n">{day[whom].link}</span>
          </span>
        </a>
      ))}
      {membership.value?.day !== day.day && (
        <>
          <div class="btns">
            <button type="button" class="btn" disabled={is_going} onClick={() => void open()}>
              {w.open}
            </button>
          </div>
          <span class="n">{w.stays}</span>
        </>
      )}
      <Waiting sentence={words.wait.joining} is_going={is_going} />
      <Refusal sentence={refused || failed} />
    </div>
  );
}

export function MakeNextDay() {
  const [title, setTitle] = useState("");
  const [refused, setRefused] = useState("");
  const wish = useRef(newId());
  const { is_going, failed, run } = useGoing();
  const person = membership.value?.person ?? "";
  const is_head = textOf(`person/${person}`, "head") === "yes";
  if (!is_head || !departmentsOf(person).includes("production")) return null;
  const ask = (like: boolean) =>
    run(async () => {
      setRefused("");
      if (!title.trim()) return setRefused(w.name_first);
      const answer = await nextDay({
        title: title.trim(),
        like,
        wish: `${wish.current}${like ? "-like" : ""}`,
      });
      if ("refused" in answer) return setRefused(w.failed(answer.refused));
      made.value = answer;
      wish.current = newId();
    });
  return (
    <Fold title={w.title} is_open={made.value !== null}>
      <div class="entry">
        <p>{w.more}</p>
        <label class="name" for="next-day">
          {w.name}
        </label>
        <input
          id="next-day"
          autocomplete="off"
          value={title}
          onInput={(event) => setTitle(event.currentTarget.value)}
        />
        <span class="told">{w.like_more}</span>
        <div class="btns forget">
          <button type="button" class="btn" disabled={is_going} onClick={() => void ask(true)}>
            {w.like}
          </button>
          <button type="button" class="btn" disabled={is_going} onClick={() => void ask(false)}>
            {w.empty}
          </button>
        </div>
        <Waiting sentence={words.wait.working} is_going={is_going} />
        <Refusal sentence={refused || failed} />
      </div>
      {made.value && <Made day={made.value} />}
    </Fold>
  );
}

export function OtherDays() {
  const others = otherDays();
  if (!others.length) return null;
  return (
    <Fold title={w.others} count={others.length}>
      <p class="para sub">{w.others_more}</p>
      {others.map(({ day, day_title }) => (
        <button key={day} type="button" class="row plain" onClick={() => openOther(day)}>
          <span class="t">
            <Said>{day_title || day}</Said>
          </span>
          <span class="word">{words.join.open_day}</span>
        </button>
      ))}
    </Fold>
  );
}
