// Laptop: what is held, who waits, what changed, beside every screen. Departments, never names.
import { computed } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { timeOfDay } from "../../clock";
import { departmentsOf, kindOf, shots_in_order, titleOf } from "../../day_reads";
import { day_sheet, heardBy, numberOfShot } from "../../day_sheet";
import { facts, record, recordsOf } from "../../day_signals";
import type { Value } from "../../engine/contract";
import { departmentLabel, fieldNamed, kinds_table } from "../../kinds_table";
import { HoldBlock } from "../../parts/blocks";
import { Said, stopped } from "../../parts/said";
import { link, recordLink } from "../../routing";
import { words } from "../../words";
import { ShownValue } from "../record/shown_value";
import { requestLine } from "./asks";

const WIDE = matchMedia("(min-width: 1000px)");
const CHANGES = 12;

export const isWide = (): boolean => WIDE.matches;

export function useWide(): boolean {
  const [is_wide, setWide] = useState(WIDE.matches);
  useEffect(() => {
    const look = () => setWide(WIDE.matches);
    WIDE.addEventListener("change", look);
    return () => WIDE.removeEventListener("change", look);
  }, []);
  return is_wide;
}

type Change = { record: string; field: string; value: Value; at_ms: number; by: string; for_whom: string };

/** The newest live edits of the day, one a field. */
const changes = computed((): Change[] => {
  const found: Change[] = [];
  if (!facts.value) return found;
  for (const { name, ends } of kinds_table.value.kinds) {
    if (name === "person" || name === "verdict") continue;
    for (const key of recordsOf(name).value) {
      for (const [field, cell] of Object.entries(record(key).peek() ?? {})) {
        const live = cell[1][0];
        const is_inner = ends.includes(field) || (name === "photograph" && field !== "says");
        if (!live || is_inner) continue;
        const [, value, at_ms, by, for_whom] = live;
        found.push({ record: key, field, value, at_ms, by, for_whom });
      }
    }
  }
  return found.sort((a, b) => b.at_ms - a.at_ms).slice(0, CHANGES);
});

/** What a task is called that no person named: as the shots list it. */
const rowTitle = (key: string): string =>
  kindOf(key) === "task"
    ? (shots_in_order.value.flatMap(({ sheet }) => sheet.rows.tasks).find((row) => row.record === key)
        ?.title ?? "")
    : "";

function Changes() {
  if (!changes.value.length) return <p class="it">{words.day.no_changes}</p>;
  return changes.value.map((one) => {
    const kind = kindOf(one.record);
    const field = fieldNamed(kind, one.field);
    const [department] = departmentsOf(one.for_whom || one.by);
    return (
      <a key={`${one.record}/${one.field}`} class="it" href={recordLink(one.record)}>
        {[timeOfDay(one.at_ms), departmentLabel(department ?? "")].filter(Boolean).join(" ")}:{" "}
        <Said>{rowTitle(one.record) || titleOf(one.record)}</Said>
        {field?.type === "tick" ? "" : `, ${field?.label ?? one.field}`}{" "}
        <b>
          <ShownValue kind={kind} field={one.field} value={one.value} />
        </b>
      </a>
    );
  });
}

export function Beside() {
  const held = day_sheet.value?.holds.filter((hold) => !hold.cleared) ?? [];
  const waiting = day_sheet.value?.requests ?? [];
  const twos = shots_in_order.value.flatMap(({ shot, sheet }) =>
    sheet.two_answers.map((two) => ({ shot, two })),
  );
  return (
    <aside class="beside">
      <h2>{words.day.held(held.length)}</h2>
      {held.length === 0 && <p class="it">{words.day.no_holds}</p>}
      {held.map((hold) => (
        <a key={hold.record} class="it" href={recordLink(hold.record)}>
          <HoldBlock
            word={hold.type === "watch" ? words.hold.watch : words.hold.word}
            about={numberOfShot(hold.shot)}
          >
            <Said>{stopped(hold.line)}</Said> {heardBy(hold.ids) === 0 && <b>{words.hold.nobody}</b>}
          </HoldBlock>
        </a>
      ))}
      <h2>{words.day.waiting(waiting.length + twos.length)}</h2>
      {waiting.length + twos.length === 0 && <p class="it">{words.day.no_waiting}</p>}
      {waiting.map((request) => (
        <a key={request.record} class="it" href={recordLink(request.record)}>
          <b>{requestLine(request)}</b>: <Said>{request.ask}</Said>.{" "}
          <b>{words.request.answers[request.answer]}</b>
        </a>
      ))}
      {twos.map(({ shot, two }) => (
        <a key={`${two.record}/${two.field}`} class="it" href={`#/two/${two.record}/${two.field}`}>
          <b>{words.day.two_of(two.label)}</b>, {numberOfShot(shot)}:{" "}
          <Said>{two.answers.map((one) => one.shown).join(", ")}</Said>
        </a>
      ))}
      <h2>{words.day.changes}</h2>
      <Changes />
      <a class="it" href={link("feed")}>
        <b>{words.bring.feed.older}</b>
      </a>
    </aside>
  );
}
