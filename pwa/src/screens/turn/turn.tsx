// From one shot to the next: what each department moves, brings, takes away, dims, dresses and resets; and whether it still cuts.
import { useState } from "preact/hooks";
import { paintedRow } from "../../acting";
import { useAnswer, useSlow } from "../../asked";
import { utcOffsetMin } from "../../clock";
import { my_departments, type ShotNow, shots_in_order } from "../../day_reads";
import { useInView } from "../../in_view";
import { Caution, Empty, Fold, Head, Progress } from "../../parts/blocks";
import { Said, Strip, unbroken } from "../../parts/said";
import { units } from "../../preferences";
import { goInstead, link, recordLink } from "../../routing";
import type { Caution as CautionWords, Row } from "../../sheet_types";
import { words } from "../../words";
import { Meanings } from "../help/meanings";
import { Chooser } from "../record/chosen_entry";
import { recordsFor } from "../shot/ask_shot";
import { NoShot } from "../shot/no_shot";
import { Ticking } from "../shot/ticking";
import { type Match, MatchPoints } from "./match_points";

const w = words.record_of_day.turn;

export type TurnLine = {
  act: string;
  word: string;
  record: string;
  sentence: string;
  second: string;
  caution: CautionWords | null;
  /** Null of what is asked: a tap leads to where it is filled in. */
  row: Row | null;
};
export type Turn = {
  to: string;
  from: string;
  departments: { department: string; label: string; lines: TurnLine[] }[];
  sentence: string;
};

const nameOf = ({ sheet }: ShotNow): string => `${sheet.shot.number} ${sheet.shot.title}`.trim();
export const shotOptions = () => shots_in_order.value.map((one) => ({ value: one.shot, word: nameOf(one) }));

export const told = () => ({ units: units.value, utc_offset_min: utcOffsetMin() });

/** What is to be asked of the rules about the way from one shot to the next. */
export const turnQuestion = (now: ShotNow, then: ShotNow | undefined) => ({
  do: "turn_around",
  shot: now.shot,
  shot_then: then?.shot ?? "",
  records: { ...(then ? recordsFor(then) : {}), ...recordsFor(now) },
  ...told(),
});

function Lines({ lines, shot }: { lines: TurnLine[]; shot: string }) {
  return lines.map((one, place) => {
    const before = lines[place - 1]?.caution?.sentence;
    const caution = one.caution?.sentence === before ? null : one.caution;
    if (one.row) return <Ticking key={one.row.record} row={{ ...one.row, caution }} />;
    return (
      <a key={`${one.record} ${one.sentence}`} class="row plain" href={recordLink(one.record, { shot })}>
        <span>
          <span class="t">
            <Said>{unbroken(one.sentence)}</Said>
          </span>
          <span class="n">
            <Said>{unbroken(one.second)}</Said>
          </span>
        </span>
        <Caution caution={caution} />
      </a>
    );
  });
}

const isOpen = ({ row }: TurnLine): boolean => !row || paintedRow(row).state !== "done";

function WhatToDo({ now, then }: { now: ShotNow; then: ShotNow | undefined }) {
  const rests = [now.summary.computed_ms, then?.summary.computed_ms, now.shot, then?.shot, units.value];
  const { answer, refusal } = useAnswer<{ turn_around: Turn }>(turnQuestion(now, then), rests);
  const is_slow = useSlow(!answer && !refusal);
  const turn = answer?.turn_around;
  if (!turn)
    return refusal ? (
      <Empty sentence={refusal} />
    ) : (
      <Progress sentence={words.wait.working} is_slow={is_slow} />
    );
  const mine = (one: Turn["departments"][number]) => my_departments.value.includes(one.department);
  const ordered = [...turn.departments.filter(mine), ...turn.departments.filter((one) => !mine(one))];
  return (
    <>
      <p class="para sub">{turn.sentence}.</p>
      {ordered.length === 0 && <Empty sentence={w.nothing} />}
      {ordered.map(({ department, label, lines }, place) => (
        <section key={department}>
          <div class="thing">
            <h2>
              <Strip number={label} is_small cut={place} />
            </h2>
            <span class="go-on">
              {words.list.open_done(lines.filter(isOpen).length, lines.filter((one) => !isOpen(one)).length)}
            </span>
          </div>
          <Lines lines={lines} shot={now.shot} />
        </section>
      ))}
    </>
  );
}

function StillMatches({ now, then }: { now: ShotNow; then: ShotNow }) {
  const question = {
    do: "match",
    shot: now.shot,
    shot_then: then.shot,
    records: recordsFor(now),
    records_then: recordsFor(then),
    ...told(),
  };
  const rests = [now.summary.computed_ms, then.summary.computed_ms, now.shot, then.shot, units.value];
  const { answer, refusal } = useAnswer<{ match: Match }>(question, rests);
  const is_slow = useSlow(!answer && !refusal);
  if (answer) return <MatchPoints match={answer.match} />;
  return refusal ? (
    <Empty sentence={refusal} />
  ) : (
    <Progress sentence={words.wait.working} is_slow={is_slow} />
  );
}

function MustCutWith({ now, first }: { now: ShotNow; first: string }) {
  const [chosen, setChosen] = useState(first);
  const then = shots_in_order.value.find(({ shot }) => shot === chosen);
  return (
    <>
      <div class="entry">
        <label class="name" for="match-with">
          {w.match_with}
        </label>
        <Chooser id="match-with" options={shotOptions()} chosen={chosen} onChoose={setChosen} />
      </div>
      {then && then.shot !== now.shot ? (
        <StillMatches key={then.shot} now={now} then={then} />
      ) : (
        <Empty sentence={w.no_match} />
      )}
    </>
  );
}

/** Parts: the shot, and the one before it: "" when it is the first; left out, the order of the day says which. */
export function TurnScreen({ parts }: { parts: string[] }) {
  const shots = shots_in_order.value;
  const place = shots.findIndex(({ shot }) => shot === parts[0]);
  const now = shots[place];
  useInView(now ? `shot/${now.shot}` : "", now?.shot ?? "");
  if (!now) return <NoShot title={words.nav.shot} />;
  const before = parts[1] ?? shots[place - 1]?.shot ?? "-";
  const then = shots.find(({ shot }) => shot === before);
  return (
    <>
      <Head number={now.sheet.shot.number} name={now.sheet.shot.title} lines={[w.title]} />
      <div class="entry">
        <label class="name" for="turn-from">
          {w.from}
        </label>
        <Chooser
          id="turn-from"
          options={shotOptions().filter(({ value }) => value !== now.shot)}
          chosen={then?.shot ?? ""}
          nothing={w.first}
          onChoose={(value) => goInstead(link("turn", [now.shot, value || "-"]))}
        />
      </div>
      <WhatToDo now={now} then={then} />
      <Fold title={w.match}>
        <MustCutWith key={then?.shot ?? ""} now={now} first={then?.shot ?? ""} />
      </Fold>
      <Meanings part="turn" of={null} />
    </>
  );
}
