// A code by which more phones join this day, for who is of production; the server makes it and shows it once.
import { useState } from "preact/hooks";
import { timeOfDay } from "../../clock";
import { departmentsOf } from "../../day_reads";
import { membership } from "../../day_signals";
import { invite } from "../../engine/client";
import type { Invitation } from "../../engine/contract";
import { kinds_table } from "../../kinds_table";
import { Fold, Refusal } from "../../parts/blocks";
import { useGoing, Waiting } from "../../parts/slow";
import { words } from "../../words";
import { Choices } from "../record/chosen_entry";

const w = words.next_day.invite;

export function LetJoin() {
  const [departments, setDepartments] = useState<string[]>([]);
  const [head, setHead] = useState(false);
  const [made, setMade] = useState<Invitation | null>(null);
  const [refused, setRefused] = useState("");
  const { is_going, failed, run } = useGoing();
  if (!departmentsOf(membership.value?.person ?? "").includes("production")) return null;
  const ask = () =>
    run(async () => {
      setMade(null);
      setRefused(departments.length ? "" : w.choose);
      if (!departments.length) return;
      const answer = await invite({ departments, head });
      if ("refused" in answer) setRefused(w.failed(answer.refused));
      else setMade(answer);
    });
  return (
    <Fold title={w.title}>
      <div class="entry">
        <Choices
          label={w.for_whom}
          is_many
          options={kinds_table.value.departments.map(({ name, label }) => ({ value: name, word: label }))}
          chosen={departments}
          onChoose={setDepartments}
        />
        <Choices
          label={w.rank}
          options={[
            { value: "", word: w.crew },
            { value: "head", word: w.head },
          ]}
          chosen={[head ? "head" : ""]}
          onChoose={([one]) => setHead(one === "head")}
        />
        <div class="btns">
          <button type="button" class="btn" disabled={is_going} onClick={() => void ask()}>
            {w.make}
          </button>
        </div>
        <Waiting sentence={words.wait.working} is_going={is_going} />
        <Refusal sentence={refused || failed} />
      </div>
      {made && (
        <div role="status">
          <a class="kv tall" href={made.link} target="_blank" rel="noreferrer">
            <span>
              <b>{made.code}</b>
              <span class="n">{made.link}</span>
            </span>
          </a>
          <p class="para sub">{w.until(made.uses_left, timeOfDay(made.expires_ms))}</p>
        </div>
      )}
    </Fold>
  );
}
