// An old day beside this one: its file is read, checked and looked up in; nothing of it enters the day.
import { signal } from "@preact/signals";
import { useState } from "preact/hooks";
import { useAnswer, useSlow } from "../../asked";
import { utcOffsetMin } from "../../clock";
import { shots_in_order } from "../../day_reads";
import { facts, shown } from "../../day_signals";
import { readDayFile } from "../../engine/client";
import type { Fields, FileFault, RecordKey } from "../../engine/contract";
import { useInView } from "../../in_view";
import { Empty, Head, HoldBlock, Progress } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { units } from "../../preferences";
import { words } from "../../words";
import { Chooser } from "../record/chosen_entry";
import { recordsFor } from "../shot/ask_shot";
import { type Match, MatchPoints } from "../turn/match_points";
import { shotOptions } from "../turn/turn";

const w = words.record_of_day.reference;

type Records = { [key: RecordKey]: Fields };
type OldDay = { title: string; records: Records; shots: { value: string; word: string }[]; newer: number };

/** Read only, and kept for as long as the app is open. */
const old_day = signal<OldDay | null>(null);

/** What such a file leaves out on purpose is no damage. */
const LEFT_OUT = ["not_for_this_phone", "waits_for_server"];
/** What a match is made from; of each only what belongs to the shot. */
const KINDS = [
  "scene",
  "setup",
  "shot",
  "source",
  "layer",
  "rig",
  "circuit",
  "point",
  "level",
  "reading",
  "dressing",
  "serves",
];

const kindOf = (key: string): string => key.slice(0, key.indexOf("/"));
const text = (records: Records, key: string, field: string): string => {
  const value = shown(records[key]?.[field]);
  return typeof value === "string" ? value : "";
};

function recordsOfShot({ records }: OldDay, shot: string): Records {
  const kept = Object.entries(records).filter(([key, fields]) => {
    if (!KINDS.includes(kindOf(key))) return false;
    const of = shown(fields.shot);
    return of === undefined || of === shot || shown(fields.of_source) !== undefined;
  });
  return Object.fromEntries(kept);
}

function opened(title: string, records: Records): OldDay {
  const shots = Object.keys(records).filter(
    (key) => kindOf(key) === "shot" && !Array.isArray(shown(records[key]?.present)),
  );
  const options = shots.map((key) => ({
    value: key.slice("shot/".length),
    word: words.join_words([text(records, key, "number") || key, text(records, key, "title")]),
  }));
  const mine = facts.value?.rules ?? Number.POSITIVE_INFINITY;
  const newer = Object.values(records)
    .flatMap(Object.values)
    .flatMap((cell) => cell[1])
    .filter((entry) => entry[6] > mine).length;
  const by_number = (a: { word: string }, b: { word: string }) =>
    a.word.localeCompare(b.word, "en", { numeric: true });
  return { title, records, shots: options.sort(by_number), newer };
}

function Points({ day, then, now }: { day: OldDay; then: string; now: string }) {
  const found = shots_in_order.value.find(({ shot }) => shot === now);
  const question = found && {
    do: "match",
    shot: now,
    shot_then: then,
    records: recordsFor(found),
    records_then: recordsOfShot(day, then),
    units: units.value,
    utc_offset_min: utcOffsetMin(),
  };
  const rests = [found?.summary.computed_ms, day, then, now, units.value];
  const { answer, refusal } = useAnswer<{ match: Match }>(question ?? null, rests);
  const is_slow = useSlow(!answer && !refusal);
  if (answer) return <MatchPoints match={answer.match} />;
  return refusal ? (
    <Empty sentence={refusal} />
  ) : (
    <Progress sentence={words.wait.working} is_slow={is_slow} />
  );
}

function Beside({ day, shot }: { day: OldDay; shot: string }) {
  const number = shots_in_order.value.find((one) => one.shot === shot)?.sheet.shot.number;
  const [then, setThen] = useState(
    day.shots.find(({ word }) => number && word.startsWith(number))?.value ?? "",
  );
  const [now, setNow] = useState(shot);
  if (!day.shots.length) return <Empty sentence={w.none} />;
  return (
    <>
      <p class="para">
        <b>
          <Said>{w.of(day.title, day.shots.length)}</Said>
        </b>{" "}
        {day.newer > 0 && w.newer(day.newer)}
      </p>
      <div class="entry">
        <label class="name" for="shot-then">
          {w.shot_then}
        </label>
        <Chooser id="shot-then" options={day.shots} chosen={then} onChoose={setThen} />
        <label class="name later" for="shot-now">
          {w.shot_now}
        </label>
        <Chooser id="shot-now" options={shotOptions()} chosen={now} onChoose={setNow} />
      </div>
      {then && now ? (
        <Points key={`${then} ${now}`} day={day} then={then} now={now} />
      ) : (
        <Empty sentence={w.no_shot} />
      )}
    </>
  );
}

export function ReferenceScreen({ parts }: { parts: string[] }) {
  const [reading, setReading] = useState(false);
  const [why, setWhy] = useState<string[]>([]);
  useInView("");
  const is_slow = useSlow(reading);
  const refuse = (sentences: string[]) => {
    old_day.value = null;
    setWhy(sentences);
  };
  const open = async (file: File | undefined) => {
    if (!file) return;
    setReading(true);
    try {
      const answer = await readDayFile(await file.text(), true);
      if ("refused" in answer) return refuse([answer.refused.sentence]);
      const { title, is_cut, faults, cells } = answer.read;
      const damage = faults.filter(({ code }: FileFault) => !LEFT_OUT.includes(code));
      if (is_cut || damage.length) {
        const said = damage.map((one) => (one.place ? `${one.place}: ${one.sentence}` : one.sentence));
        return refuse([is_cut ? w.cut : w.damaged, ...said.slice(0, 5)]);
      }
      setWhy([]);
      old_day.value = opened(title, JSON.parse(cells ?? "{}"));
    } catch (error) {
      refuse([error instanceof Error ? error.message : String(error)]);
    } finally {
      setReading(false);
    }
  };
  const day = old_day.value;
  return (
    <>
      <Head number={w.title} />
      <p class="para sub">{w.lead}</p>
      <div class="entry">
        <label class="btn file" for="old-day">
          {day ? w.another : w.choose}
          <input
            id="old-day"
            type="file"
            accept=".json,application/json"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              void open(file);
            }}
          />
        </label>
      </div>
      <Progress sentence={w.reading} is_slow={is_slow} />
      {why.length > 0 && (
        <div class="para" role="alert">
          <HoldBlock word={w.refused}>
            {why.map((one) => (
              <span key={one} class="n">
                <Said>{one}</Said>{" "}
              </span>
            ))}
          </HoldBlock>
        </div>
      )}
      {day && <Beside key={day.title} day={day} shot={parts[0] ?? ""} />}
    </>
  );
}
