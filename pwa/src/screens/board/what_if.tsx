// What if of the day: one more pair of hands, a shot dropped, two swapped. The rules say what it would win; nothing is kept.
import { useState } from "preact/hooks";
import { useAnswer } from "../../asked";
import { type ShotNow, shots_in_order } from "../../day_reads";
import { forecastQuestion } from "../../day_sheet";
import { kinds_table } from "../../kinds_table";
import { Said } from "../../parts/said";
import type { DayForecast, Forecast } from "../../sheet_types";
import { words } from "../../words";
import { Chooser } from "../record/chosen_entry";

const w = words.board;

type Change =
  | { do: "hands"; department: string; count: number }
  | { do: "drop"; shot: string }
  | { do: "swap"; shots: string[] };

const won = (exactly: number | null): string => {
  const min = exactly === null ? null : Math.round(exactly);
  return min === null ? w.cannot_say : min > 0 ? w.sooner_by(min) : min < 0 ? w.later_by(-min) : w.same;
};

/** Where a department's own word stands, more hands of it show nothing: the rules say so. */
const ownWords = (shot: Forecast, department: string): string[] =>
  shot.words.filter((word) => word.stands && word.department === department).map(({ shown }) => shown);

const optionOf = ({ shot, sheet }: ShotNow) => ({
  value: shot,
  word: `${sheet.shot.number} ${sheet.shot.title}`,
});

function Choose(props: {
  id: string;
  label: string;
  options: { value: string; word: string }[];
  chosen: string;
  nothing: string;
  onChoose: (value: string) => void;
}) {
  return (
    <>
      <label class="name later" for={props.id}>
        {props.label}
      </label>
      <Chooser {...props} />
    </>
  );
}

export function WhatIfOfDay() {
  const [hands, setHands] = useState("");
  const [drop, setDrop] = useState("");
  const [one, setOne] = useState("");
  const [other, setOther] = useState("");
  const all = shots_in_order.value;
  const open = all.filter(({ readiness }) => readiness.state !== "done");
  const changes: Change[] = [];
  if (hands) changes.push({ do: "hands", department: hands, count: 1 });
  if (one && other && one !== other) changes.push({ do: "swap", shots: [one, other] });
  if (drop) changes.push({ do: "drop", shot: drop });
  const asked = forecastQuestion();
  const is_asked = changes.length > 0 && asked !== null;
  const { answer, refusal } = useAnswer<DayForecast>(is_asked ? { ...asked, changes } : null, [
    JSON.stringify(changes),
    ...all.map(({ summary }) => summary),
  ]);
  const shots = open.map(optionOf);
  const departments = kinds_table.value.departments.map(({ name, label }) => ({ value: name, word: label }));
  return (
    <div class="form">
      <div class="entry">
        <Choose
          id="more-hands"
          label={w.one_more}
          options={departments}
          chosen={hands}
          nothing={w.nobody}
          onChoose={setHands}
        />
        <Choose
          id="drop"
          label={w.drop}
          options={shots}
          chosen={drop}
          nothing={w.no_shot}
          onChoose={setDrop}
        />
        <Choose id="swap" label={w.swap} options={shots} chosen={one} nothing={w.no_shot} onChoose={setOne} />
        <Choose
          id="swap-with"
          label={w.swap_with}
          options={shots}
          chosen={other}
          nothing={w.no_shot}
          onChoose={setOther}
        />
      </div>
      <div aria-live="polite">
        {refusal && <p class="para">{refusal}</p>}
        {!is_asked && <p class="para sub">{w.nothing_tried}</p>}
        {is_asked && answer && (
          <>
            <Would label={w.whole_day} said={won(answer.minutes_won)} more="" />
            {answer.shots
              .filter(({ phase }) => phase !== "done")
              .map((shot) => (
                <Would
                  key={shot.shot}
                  label={shot.number}
                  said={won(shot.minutes_won)}
                  more={words.join_words([shot.when?.shown ?? shot.why_none, ...ownWords(shot, hands)])}
                />
              ))}
          </>
        )}
      </div>
    </div>
  );
}

const Would = ({ label, said, more }: { label: string; said: string; more: string }) => (
  <div class="row plain">
    <span>
      <span class="t">
        <Said>{label}</Said>
      </span>
      <span class="n">
        <Said>{more}</Said>
      </span>
    </span>
    <span class="word">{said}</span>
  </div>
);
