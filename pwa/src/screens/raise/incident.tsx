// An incident for the record: what, where, when, who was told. Nothing of anyone's health.
import { useState } from "preact/hooks";
import { type SaveAnswer, save } from "../../acting";
import { timeOfDay } from "../../clock";
import { my_departments } from "../../day_reads";
import { newId } from "../../engine/client";
import { in_view } from "../../in_view";
import { Head, NotSaved } from "../../parts/blocks";
import { link, onward } from "../../routing";
import { words } from "../../words";
import { Choices } from "../record/chosen_entry";

const w = words.record_of_day.incident;
const TYPED = [
  ["place", w.place],
  ["happened_time", w.time],
  ["told", w.told],
] as const;

export function IncidentScreen() {
  const [said, setSaid] = useState<{ [field: string]: string }>(() => ({
    injured: "unknown",
    happened_time: timeOfDay(Date.now()),
    ...(in_view.value.shot ? { shot: in_view.value.shot } : {}),
    ...(my_departments.value[0] ? { department: my_departments.value[0] } : {}),
  }));
  const [reasons, setReasons] = useState<SaveAnswer["reasons"]>([]);
  const put = (field: string, value: string) => setSaid((before) => ({ ...before, [field]: value }));
  const write = async () => {
    if (!said.what?.trim()) return setReasons([{ field: "what", sentence: words.raise.needs_words }]);
    const set = Object.fromEntries(Object.entries(said).filter(([, value]) => value.trim()));
    const id = newId();
    const goOn = onward();
    const answer = await save([{ kind: "incident", record: id, set }]);
    setReasons(answer.reasons);
    if (answer.saved) goOn(link("record", ["incident", id]));
  };
  const refused = (field: string) => {
    const sentence = reasons.find((one) => one.field === field)?.sentence;
    return (
      <span class={sentence ? "told refused" : "told"} role={sentence ? "alert" : undefined}>
        {sentence}
      </span>
    );
  };
  return (
    <>
      <Head number={w.title} />
      <a class="row plain" href={link("emergency")}>
        <b>{w.emergency}</b>
      </a>
      <form
        class="form"
        onSubmit={(event) => {
          event.preventDefault();
          void write();
        }}
      >
        <div class="entry">
          <label class="name" for="incident-what">
            {w.what}
            <small>{w.what_more}</small>
          </label>
          <textarea
            id="incident-what"
            dir="auto"
            value={said.what ?? ""}
            onInput={(event) => put("what", event.currentTarget.value)}
          />
          {refused("what")}
        </div>
        {TYPED.map(([field, label]) => (
          <div key={field} class="entry">
            <label class="name" for={`incident-${field}`}>
              {label}
            </label>
            <input
              id={`incident-${field}`}
              type="text"
              dir="auto"
              autocomplete="off"
              value={said[field] ?? ""}
              onInput={(event) => put(field, event.currentTarget.value)}
            />
            {refused(field)}
          </div>
        ))}
        <div class="entry">
          <Choices
            label={w.injured}
            options={Object.entries(w.choices).map(([value, word]) => ({ value, word }))}
            chosen={[said.injured ?? "unknown"]}
            onChoose={([one]) => put("injured", one ?? "unknown")}
          />
        </div>
        <div class="actions">
          <div class="btns">
            <button type="submit" class="btn solid">
              {w.do}
            </button>
          </div>
          <NotSaved
            sentence={
              reasons.find(({ field }) => !["what", "place", "happened_time", "told"].includes(field))
                ?.sentence ?? ""
            }
          />
        </div>
      </form>
    </>
  );
}
