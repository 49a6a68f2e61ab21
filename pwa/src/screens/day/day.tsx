// The day: every shot with what each department has left, what holds it and, where it can be said, when.

import { now, timeOfDay } from "../../clock";
import { shots_in_order, shots_waiting, textOf } from "../../day_reads";
import { board, day_refusal, day_sheet } from "../../day_sheet";
import { membership } from "../../day_signals";
import { useInView } from "../../in_view";
import { departmentNamed, kinds_table } from "../../kinds_table";
import { Fold, Head, HoldBlock } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said, Strip, stopped } from "../../parts/said";
import { link, recordLink } from "../../routing";
import { unseen_count } from "../../seen";
import { words } from "../../words";
import { HoldReach } from "../hold/hold";
import { EmptyDay, hasNoShot } from "../shot/no_shot";
import { Requests } from "./requests";
import { OpenShot, PastShot } from "./shot_line";

const SHOWN_PAST = 2;
const BESIDE_THE_NAME = 5;

/** Departments that any shot speaks of, in the order of the table. */
function columnsOfDay(): string[] {
  const spoken = new Set(shots_in_order.value.flatMap(({ readiness }) => Object.keys(readiness.departments)));
  const known = kinds_table.value.departments.map(({ name }) => name).filter((name) => spoken.has(name));
  return known.length ? known : [...spoken].sort();
}

function ColumnHeads({ columns }: { columns: string[] }) {
  const ages = new Map(board.value?.departments.map((one) => [one.name, one]));
  const done = shots_in_order.value.filter(({ readiness }) => readiness.state === "done").length;
  return (
    <div class="bh">
      <span>
        <span class="long">
          {words.day.shot_head}
          <em>{words.day.shots_count(shots_in_order.value.length, done)}</em>
        </span>
        <span class="short">{words.day.last_word}</span>
      </span>
      <span class="ready-head">{words.day.ready_head}</span>
      {columns.map((name) => {
        const { label, short } = departmentNamed(name);
        const one = ages.get(name);
        const age = one?.age ?? "";
        // A figure stays with its unit; "not known" takes two lines, or it would run into its neighbour.
        const look = [one?.old && "old", age.includes("\u00a0") && "is-figure"].filter(Boolean).join(" ");
        return (
          <span key={name}>
            <span class="short">{short}</span>
            <span class="long">{label}</span>
            <em class={look}>{age.replace("\u00a0", " ")}</em>
          </span>
        );
      })}
    </div>
  );
}

export function DayHolds() {
  const holds = day_sheet.value?.holds.filter((hold) => hold.whole_day && !hold.cleared) ?? [];
  return holds.map((hold) => (
    <a key={hold.record} class="shot" href={recordLink(hold.record)}>
      <HoldBlock word={hold.type === "watch" ? words.hold.watch : words.hold.word}>
        <Said>{stopped(hold.line)}</Said> <HoldReach ids={hold.ids} />
      </HoldBlock>
    </a>
  ));
}

export function DayScreen() {
  const shots = shots_in_order.value;
  const columns = columnsOfDay();
  const day = day_sheet.value?.day;
  useInView(day?.record ?? "");
  const past = shots.filter(({ readiness }) => readiness.state === "done");
  const open = shots.filter(({ readiness }) => readiness.state !== "done");
  const scenes = day?.scenes ?? [];
  const past_lines = past.map((one) => <PastShot key={one.shot} {...one} />);
  return (
    <>
      <Head
        number={day?.title || membership.value?.day_title || ""}
        name={scenes.length === 1 ? scenes[0]?.title : undefined}
        lines={[day?.place, words.join_words([day?.date ?? "", timeOfDay(now.value)])]}
      />
      {unseen_count.value > 0 && (
        <a class="row" href={link("feed")}>
          <Mark name="chg" />
          <span>
            <b>{words.bring.feed.link(unseen_count.value)}</b>
            <span class="n">{words.bring.feed.link_more}</span>
          </span>
        </a>
      )}
      <div
        class={columns.length > BESIDE_THE_NAME ? "board many" : "board"}
        style={{ "--columns": String(columns.length) }}
      >
        {shots.length > 0 && <ColumnHeads columns={columns} />}
        <DayHolds />
        {past.length > SHOWN_PAST ? (
          <Fold title={words.list.done} count={past.length}>
            {past_lines}
          </Fold>
        ) : (
          past_lines
        )}
        {open.map((one, index) => (
          <OpenShot key={one.shot} {...one} columns={columns} is_next={index === 0} cut={index} />
        ))}
        {shots_waiting.value.map((key) => (
          <a key={key} class="shot" href={recordLink(key)}>
            <span class="bt1">
              <Strip number={textOf(key, "number")} is_small />
              <Said>{textOf(key, "title")}</Said>
              <span class="r">{words.day.not_computed}</span>
            </span>
          </a>
        ))}
      </div>
      {hasNoShot() && <EmptyDay />}
      <a class="row plain" href={link("board")}>
        <span>
          <span class="t">
            <b>{words.board.title}</b>
          </span>
          <span class="n">{words.board.open_more}</span>
        </span>
      </a>
      <Requests />
      <div class="actions btns">
        <a class="btn" href={link("search")}>
          {words.bring.search.title}
        </a>
        <a class="btn" href={link("feed")}>
          {words.bring.feed.title}
        </a>
      </div>
      {day_refusal.value && (
        <p class="para sub" role="alert">
          {words.error.rules} {day_refusal.value}
        </p>
      )}
    </>
  );
}
