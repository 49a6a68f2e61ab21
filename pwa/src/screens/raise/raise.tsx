// Raise: a hold, a request or a note in two taps, then words. On the record that was in view, unless one says otherwise.
import { useEffect, useRef, useState } from "preact/hooks";
import { type SaveAnswer, save } from "../../acting";
import { my_departments, titleOf } from "../../day_reads";
import { newId } from "../../engine/client";
import type { Value } from "../../engine/contract";
import { in_view } from "../../in_view";
import { departmentLabel, kinds_table } from "../../kinds_table";
import { Head, NotSaved, Refusal } from "../../parts/blocks";
import { Mark, type MarkName } from "../../parts/mark";
import { Said } from "../../parts/said";
import { back, goInstead, link, onward } from "../../routing";
import { last_row } from "../../touch";
import { words } from "../../words";
import { nothing_taken, photographAct, TakePhotograph } from "../photograph/take";
import { Choices, Chooser } from "../record/chosen_entry";
import { IncidentScreen } from "./incident";

type What = "hold" | "request" | "note" | "incident";
const w = words.raise;

const CHOICE: { what: What; mark: MarkName | null; title: string; more: string }[] = [
  { what: "hold", mark: "hold", title: w.hold, more: w.hold_more },
  { what: "request", mark: "req", title: w.request, more: w.request_more },
  { what: "note", mark: null, title: w.note, more: w.note_more },
  {
    what: "incident",
    mark: null,
    title: words.record_of_day.incident.title,
    more: words.record_of_day.incident.more,
  },
];

/** What it can be raised on: the record in view, the row last touched, the shot, the whole day. */
function targets(about: URLSearchParams): { value: string; word: string }[] {
  const record = about.get("on") || in_view.value.record;
  const shot = about.get("shot") || in_view.value.shot;
  const keys = [record, last_row.value?.record ?? "", shot ? `shot/${shot}` : ""].filter(
    (key) => key && !key.startsWith("day/"),
  );
  const found = [...new Set(keys)].map((key) => ({ value: key, word: titleOf(key) }));
  return [...found, { value: "", word: w.on_day }];
}

type Draft = {
  on: string;
  text: string;
  type: string;
  to: string;
  from: string;
  must: string;
  place: string;
};

/** The record that the words make. */
function changesOf(what: What, said: Draft, shot: string): { [field: string]: Value } {
  const is_shot = said.on.startsWith("shot/");
  const shot_id = is_shot ? said.on.slice("shot/".length) : said.on ? shot : "";
  const on: { [field: string]: Value } = said.on && !is_shot ? { on: said.on } : {};
  const where: { [field: string]: Value } = shot_id ? { shot: shot_id } : {};
  if (what === "note") return { text: said.text, ...on, ...where };
  if (what === "hold") {
    // A hold on a thing holds every shot that the thing serves: it names no shot.
    const place: { [field: string]: Value } = is_shot ? where : on;
    return { why: said.text, type: said.type, ...(said.from ? { department: said.from } : {}), ...place };
  }
  const from: { [field: string]: Value } = said.from ? { from_department: said.from } : {};
  const named = said.on && !is_shot ? { place: titleOf(said.on) } : {};
  return {
    ask: said.text,
    to_department: said.to,
    must: said.must,
    answer: "asked",
    ...from,
    ...where,
    ...named,
  };
}

function RaiseForm({ what, about }: { what: What; about: URLSearchParams }) {
  const offered = useRef(targets(about)).current;
  const shot = about.get("shot") || in_view.value.shot;
  const mine = my_departments.value;
  const [said, setSaid] = useState<Draft>({
    on: offered[0]?.value ?? "",
    text: "",
    type: "stop",
    to: "",
    from: mine[0] ?? "",
    must: "must",
    place: "",
  });
  const [reasons, setReasons] = useState<SaveAnswer["reasons"]>([]);
  const [is_saving, setSaving] = useState(false);
  const [taken, setTaken] = useState(nothing_taken);
  const field = useRef<HTMLTextAreaElement>(null);
  useEffect(() => field.current?.focus(), []);
  const put = (change: Partial<Draft>) => setSaid((before) => ({ ...before, ...change }));
  const raise = async () => {
    const text = said.text.trim() ? said.text : taken.says; // what a picture shows says enough
    if (!text.trim()) return setReasons([{ field: "text", sentence: w.needs_words }]);
    if (what === "request" && !said.to) return setReasons([{ field: "to", sentence: w.needs_department }]);
    setSaving(true);
    const id = newId();
    const goOn = onward(what === "note" ? back : goInstead);
    const picture = await photographAct(taken, `${what}/${id}`, text);
    if (picture.refused) {
      setSaving(false);
      return setReasons([{ field: "picture", sentence: picture.refused }]);
    }
    const act = { kind: what, record: id, set: changesOf(what, { ...said, text }, shot) };
    const answer = await save(picture.act ? [act, picture.act] : [act]);
    setSaving(false);
    setReasons(answer.reasons);
    if (!answer.saved) return;
    goOn(link(what, [id]));
  };
  const told_of = (field: string) => reasons.find((one) => one.field === field)?.sentence ?? "";
  const told = (field: string) => <Refusal sentence={told_of(field)} />;
  const choice = (names: string[]) => names.map((value) => ({ value, word: w.choices[value] ?? value }));
  const asks = { hold: w.why, request: w.what, note: w.text, incident: "" }[what];
  const acts = { hold: w.do_hold, request: w.do_request, note: w.do_note, incident: "" }[what];
  return (
    <form
      class="form"
      onSubmit={(event) => {
        event.preventDefault();
        void raise();
      }}
    >
      <div class="entry">
        <label class="name" for="raise-text">
          {asks}
        </label>
        <textarea
          id="raise-text"
          ref={field}
          dir="auto"
          value={said.text}
          onInput={(event) => put({ text: event.currentTarget.value })}
        />
        {told("text")}
      </div>
      {what === "request" && (
        <div class="entry">
          <label class="name" for="raise-to">
            {w.to}
          </label>
          <Chooser
            id="raise-to"
            options={kinds_table.value.departments.map(({ name, label }) => ({ value: name, word: label }))}
            chosen={said.to}
            onChoose={(to) => put({ to })}
          />
          {told("to")}
        </div>
      )}
      {what !== "request" && <TakePhotograph taken={taken} onTaken={setTaken} refused={told_of("picture")} />}
      <div class="entry">
        <Choices
          label={w.on}
          options={offered}
          chosen={[said.on]}
          onChoose={([on]) => put({ on: on ?? "" })}
        />
      </div>
      {what === "hold" && (
        <div class="entry">
          <Choices
            label={w.kind}
            options={choice(["stop", "watch"])}
            chosen={[said.type]}
            onChoose={([type]) => put({ type: type ?? "stop" })}
          />
        </div>
      )}
      {what === "request" && (
        <div class="entry">
          <Choices
            label={w.must}
            options={choice(["must", "nice"])}
            chosen={[said.must]}
            onChoose={([must]) => put({ must: must ?? "must" })}
          />
        </div>
      )}
      {what !== "note" && mine.length > 1 && (
        <div class="entry">
          <Choices
            label={w.from_head}
            options={mine.map((name) => ({ value: name, word: departmentLabel(name) }))}
            chosen={[said.from]}
            onChoose={([from]) => put({ from: from ?? "" })}
          />
        </div>
      )}
      <div class="actions">
        <div class="btns">
          <button type="submit" class="btn solid" disabled={is_saving}>
            {is_saving ? `${words.wait.saving} …` : acts}
          </button>
        </div>
        <NotSaved
          sentence={reasons.find((one) => !["text", "to", "picture"].includes(one.field))?.sentence ?? ""}
        />
      </div>
    </form>
  );
}

export function RaiseScreen({ parts, about }: { parts: string[]; about: URLSearchParams }) {
  const chosen = CHOICE.find(({ what }) => what === parts[0]);
  if (chosen?.what === "incident") return <IncidentScreen />;
  if (chosen) {
    return (
      <>
        <Head number={chosen.title} />
        <RaiseForm key={chosen.what} what={chosen.what} about={about} />
      </>
    );
  }
  const passed = Object.fromEntries(about);
  const on = targets(about)[0];
  return (
    <>
      <Head number={w.title} lines={[`${w.on}: ${on?.word ?? ""}`]} />
      {CHOICE.map(({ what, mark, title, more }) => (
        <a
          key={what}
          class="row"
          href={link("raise", [what], passed)}
          onClick={(event) => {
            // Back from the form leads to where one came from, not to this choice.
            event.preventDefault();
            goInstead(link("raise", [what], passed));
          }}
        >
          {mark ? <Mark name={mark} /> : <span />}
          <span>
            <span class="t">
              <b>{title}</b>
            </span>
            <span class="n">
              <Said>{more}</Said>
            </span>
          </span>
        </a>
      ))}
    </>
  );
}
