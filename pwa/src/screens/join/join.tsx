// Joining a day: a code, a name, what one does, one or more departments. The one thing that needs signal.
import { useEffect, useRef, useState } from "preact/hooks";
import { useSlow } from "../../asked";
import { join, startEngine } from "../../engine/client";
import type { Reason } from "../../engine/contract";
import { kinds_table } from "../../kinds_table";
import { Head } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { chosen_departments } from "../../preferences";
import { codeInAddress, goInstead } from "../../routing";
import { words } from "../../words";
import { Choices } from "../record/chosen_entry";
import { afterJoining } from "../tour/tour";
import { asksToInstall, deviceName, InstallFirst, NotSecure } from "./install";

const w = words.join;
type Day = { day: string; day_title: string };

function missing(said: { code: string; name: string; role: string; departments: string[] }): Reason[] {
  const needs = w.needs as { [field: string]: string };
  return Object.entries(said)
    .filter(([, value]) => value.length === 0)
    .map(([field]) => ({ field, code: "missing", sentence: needs[field] ?? "" }));
}

function useJoin() {
  const [code, setCode] = useState(codeInAddress());
  const [name, setName] = useState("");
  const [role, setRole] = useState("");
  const [departments, setDepartments] = useState<string[]>([]);
  const [reasons, setReasons] = useState<Reason[]>([]);
  const [is_joining, setJoining] = useState(false);
  // A link opened while this page is up changes only what follows the #.
  useEffect(() => {
    const look = () => codeInAddress() && setCode(codeInAddress());
    addEventListener("hashchange", look);
    return () => removeEventListener("hashchange", look);
  }, []);
  const send = async () => {
    const said = { code: code.trim(), name: name.trim(), role: role.trim(), departments };
    const lacking = missing(said);
    if (lacking.length) return setReasons(lacking);
    setJoining(true);
    setReasons([]);
    try {
      const answer = await join({ ...said, device_name: deviceName() });
      if (!answer.joined) return setReasons(answer.reasons);
      chosen_departments.value = null;
      goInstead(afterJoining());
      scrollTo(0, 0);
    } catch (error) {
      setReasons([{ field: "", code: "no_answer", sentence: String(error) }]);
    } finally {
      setJoining(false);
    }
  };
  return {
    code,
    setCode,
    name,
    setName,
    role,
    setRole,
    departments,
    setDepartments,
    reasons,
    is_joining,
    send,
  };
}

function Told({ reasons, field, more }: { reasons: Reason[]; field: string; more?: string }) {
  const reason = reasons.find((one) => one.field === field);
  if (!reason) return <span class="told">{more}</span>;
  return (
    <span class="told refused" role="alert">
      {reason.sentence} {w.next[reason.code] ?? ""}
    </span>
  );
}

const FIELDS = ["code", "name", "role", "departments"];

function JoinForm() {
  const form = useJoin();
  const block = useRef<HTMLFormElement>(null);
  const first_wrong = FIELDS.find((field) => form.reasons.some((reason) => reason.field === field));
  useEffect(() => {
    if (first_wrong) block.current?.querySelector<HTMLElement>(`[data-field=${first_wrong}] input`)?.focus();
  }, [first_wrong, form.reasons]);
  const is_slow = useSlow(form.is_joining);
  const others = form.reasons.filter(({ field }) => !FIELDS.includes(field));
  return (
    <form
      ref={block}
      class="form"
      onSubmit={(event) => {
        event.preventDefault();
        void form.send();
      }}
    >
      <div class="entry" data-field="code">
        <label class="name" for="join-code">
          {w.code}
        </label>
        <input
          id="join-code"
          class="figure"
          autocapitalize="characters"
          autocomplete="off"
          spellcheck={false}
          value={form.code}
          onInput={(event) => form.setCode(event.currentTarget.value)}
        />
        <Told reasons={form.reasons} field="code" more={w.code_more} />
      </div>
      <div class="entry" data-field="name">
        <label class="name" for="join-name">
          {w.name}
        </label>
        <input
          id="join-name"
          autocomplete="name"
          dir="auto"
          value={form.name}
          onInput={(event) => form.setName(event.currentTarget.value)}
        />
        <Told reasons={form.reasons} field="name" more={w.name_more} />
      </div>
      <div class="entry" data-field="role">
        <label class="name" for="join-role">
          {w.role}
        </label>
        <input
          id="join-role"
          autocomplete="organization-title"
          dir="auto"
          value={form.role}
          onInput={(event) => form.setRole(event.currentTarget.value)}
        />
        <Told reasons={form.reasons} field="role" more={w.role_more} />
      </div>
      <div class="entry" data-field="departments">
        <Choices
          label={w.departments}
          is_many
          options={kinds_table.value.departments.map(({ name, label }) => ({ value: name, word: label }))}
          chosen={form.departments}
          onChoose={form.setDepartments}
        />
        <Told reasons={form.reasons} field="departments" more={w.departments_more} />
      </div>
      <div class="actions">
        {others.map((reason) => (
          <p key={reason.code} class="told refused" role="alert">
            {reason.sentence} {w.next[reason.code] ?? ""}
          </p>
        ))}
        <div class="btns">
          <button type="submit" class="btn solid" disabled={form.is_joining}>
            {is_slow ? `${words.wait.joining} …` : w.join}
          </button>
        </div>
      </div>
    </form>
  );
}

export function JoinScreen({ days }: { days: Day[] }) {
  const [anyway, setAnyway] = useState(!asksToInstall());
  return (
    <>
      <Head number={w.title} />
      <p class="para">{w.lead}</p>
      <NotSecure />
      {!anyway && <InstallFirst code={codeInAddress()} onAnyway={() => setAnyway(true)} />}
      {anyway && <JoinForm />}
      {days.length > 0 && <h2>{w.other_days}</h2>}
      {days.map(({ day, day_title }) => (
        <button key={day} type="button" class="row plain" onClick={() => void startEngine(day)}>
          <span class="t">
            <Said>{day_title || day}</Said>
          </span>
          <span class="word">{w.open_day}</span>
        </button>
      ))}
    </>
  );
}
