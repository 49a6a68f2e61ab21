// The report of the day and the ways from shot to shot, as this phone prints them: in the words of the rules, part by part.
import { answerOf, useMade } from "../../asked";
import { gather, type ShotNow, shots_in_order } from "../../day_reads";
import { day_sheet } from "../../day_sheet";
import { facts, recordNow, recordsOf, shown } from "../../day_signals";
import { history } from "../../engine/client";
import { Mark } from "../../parts/mark";
import { unbroken } from "../../parts/said";
import { words } from "../../words";
import { recordsFor } from "../shot/ask_shot";
import { type Turn, told, turnQuestion } from "../turn/turn";
import { Fact, Held } from "./on_paper";

const w = words.record_of_day.print;

type Part = {
  name: string;
  title: string;
  lines: string[];
  cautions: string[];
  facts: [label: string, shown: string][];
  columns: string[];
  rows: string[][];
};
/** Handed back to the rules whole, for the parts that are of the day. */
type OfShot = { number: string; title: string; phase: string; parts: Part[]; line: unknown; safety: unknown };
type Report = { shots: OfShot[]; parts: Part[] };

const OF_SHOT = ["note", "reading", "person"];
const OF_DAY = ["day", "hold", "incident", "used", "kit", "person", "shot"];

/** What holds, incidents and used-up records are about. */
const about = () =>
  ["hold", "incident", "used"]
    .flatMap((kind) => recordsOf(kind).value)
    .map((key) => String(shown(recordNow(key)?.on) ?? ""))
    .flatMap((key) => {
      const fields = recordNow(key);
      return fields ? [[key, fields] as const] : [];
    });

async function makeReport(): Promise<Report> {
  const shots: OfShot[] = [];
  for (const one of shots_in_order.value) {
    const records = { ...gather(OF_SHOT), ...recordsFor(one) };
    const question = { do: "report_shot", shot: one.shot, records, ...told() };
    shots.push((await answerOf<{ report: OfShot }>(question)).report);
  }
  const log = recordsOf("hold").value.map(async (record) =>
    (await history(record)).map(({ id, at_ms, by, for_whom, set }) => ({
      id,
      record,
      at_ms,
      by,
      for_whom,
      set,
    })),
  );
  const { parts } = await answerOf<{ parts: Part[] }>({
    do: "report_day",
    shots,
    acts: (await Promise.all(log)).flat(),
    records: { ...gather(OF_DAY), ...Object.fromEntries(about()) },
    incomplete: facts.value?.incomplete.map(({ sentence }) => sentence) ?? [],
    ...told(),
  });
  return { shots, parts };
}

async function makeTurns(shots: ShotNow[]): Promise<Turn[]> {
  const turns: Turn[] = [];
  for (const [place, now] of shots.entries()) {
    const then = shots[place - 1];
    if (then) turns.push((await answerOf<{ turn_around: Turn }>(turnQuestion(now, then))).turn_around);
  }
  return turns;
}

const restsOn = () => [facts.value?.edits, facts.value?.computing];

/** Null until it is made. */
export const useReport = (is_wanted: boolean) =>
  useMade(is_wanted ? makeReport : null, [is_wanted, ...restsOn()]);
export const useTurns = (is_wanted: boolean, shots: ShotNow[]) =>
  useMade(is_wanted ? () => makeTurns(shots) : null, [
    is_wanted,
    shots.map(({ shot }) => shot).join(),
    ...restsOn(),
  ]);

const PartOf = ({ part }: { part: Part }) =>
  part.lines.length + part.facts.length + part.rows.length > 0 ? (
    <>
      {part.title && <h2>{part.title}</h2>}
      {part.lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {part.cautions.map((sentence) => (
        <p key={sentence} class="warn">
          <b>CAUTION</b> {sentence}
        </p>
      ))}
      {part.facts.length > 0 && (
        <table class={part.name === "settings" ? "short" : undefined}>
          <tbody>
            {part.facts.map(([label, said], place) => (
              <Fact key={`${place} ${label}`} label={label} shown={said} />
            ))}
          </tbody>
        </table>
      )}
      {part.rows.length > 0 && (
        <table class="log">
          <thead>
            <tr>
              {part.columns.map((column) => (
                <th key={column}>{column}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {part.rows.map((row, place) => (
              <tr key={`${place} ${row[0]}`}>
                {row.map((cell, column) => (
                  <td key={part.columns[column]}>{unbroken(cell)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  ) : null;

export function PaperReport({ report }: { report: Report }) {
  const [first, ...rest] = report.parts;
  const held = day_sheet.value?.holds.filter((hold) => !hold.cleared) ?? [];
  return (
    <>
      <section class="leaf">
        {first && (
          <>
            <h1>{first.title}</h1>
            <PartOf part={{ ...first, title: "" }} />
          </>
        )}
        {held.map((hold) => (
          <Held key={hold.record} hold={hold} />
        ))}
      </section>
      {report.shots.map(({ number, title, phase, parts }) => (
        <section key={number} class="leaf">
          <h1>
            {number} {title}: {phase}
          </h1>
          {parts.map((part) => (
            <PartOf key={part.name} part={part} />
          ))}
        </section>
      ))}
      <section class="leaf">
        {rest.map((part) => (
          <PartOf key={part.name} part={part} />
        ))}
      </section>
    </>
  );
}

const Box = ({ state }: { state: string | undefined }) =>
  state ? <Mark name={state === "done" ? "done" : "todo"} /> : <b>{w.ask}</b>;

export const PaperTurns = ({ turns }: { turns: Turn[] }) => (
  <section class="leaf">
    {turns.map(({ to, from, departments, sentence }) => (
      <div key={`${from} ${to}`}>
        <h1>{words.record_of_day.turn.from_to(from, to)}</h1>
        <p>{sentence}.</p>
        {departments.map(({ department, label, lines }) => (
          <table key={department} class="boxes">
            <thead>
              <tr>
                <th colSpan={2}>{label}</th>
              </tr>
            </thead>
            <tbody>
              {lines.map((line) => (
                <tr key={`${line.record} ${line.sentence}`}>
                  <td class="box">
                    <Box state={line.row?.state} />
                  </td>
                  <td>
                    {unbroken(words.join_words([line.sentence, line.second]))}
                    {line.caution && (
                      <small class="warn">
                        <b>CAUTION</b> {line.caution.sentence}
                      </small>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        ))}
      </div>
    ))}
  </section>
);
