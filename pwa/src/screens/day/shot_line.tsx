// One shot on the day: its strip, a mark a department, its state in words; a hold outranks every other line.
import type { ShotNow } from "../../day_reads";
import { board } from "../../day_sheet";
import { departmentLabel } from "../../kinds_table";
import { HoldBlock } from "../../parts/blocks";
import { Mark, markOf } from "../../parts/mark";
import { Said, Strip, stopped, Unseen } from "../../parts/said";
import { link } from "../../routing";
import { isUnseen } from "../../seen";
import { words } from "../../words";
import { HoldReach } from "../hold/hold";

export function PastShot({ shot, sheet, readiness }: ShotNow) {
  return (
    <a class="shot past" href={link("shot", [shot])}>
      <span class="bt1">
        <Strip number={sheet.shot.number} is_small />
        <Said>{sheet.shot.title}</Said>
        <span class="r">
          <b>{readiness.word}</b> {readiness.sentence}
        </span>
      </span>
    </a>
  );
}

function State({ shot, readiness, sheet }: ShotNow) {
  const told = board.value?.rows.find((row) => row.shot === shot);
  const holds = sheet.holds.filter((hold) => !hold.cleared && !hold.whole_day && hold.type !== "watch");
  if (holds.length) {
    return holds.map((hold) => (
      <HoldBlock key={hold.record}>
        <Said>{stopped(hold.line)}</Said> <HoldReach ids={hold.ids} />
      </HoldBlock>
    ));
  }
  // Until the board has answered, nobody has looked how old a 'ready' is: it is not shown as one.
  if (!told && readiness.state === "ready") return <b>{words.wait.working} …</b>;
  return (
    <>
      <b>{told?.word ?? readiness.word}.</b> <Said>{told?.sentence ?? readiness.sentence}</Said>
    </>
  );
}

export function OpenShot(props: ShotNow & { columns: string[]; is_next: boolean; cut: number }) {
  const { shot, sheet, readiness, columns, is_next } = props;
  return (
    <a class={`shot open-shot${is_next ? " next" : ""}`} href={link("shot", [shot])}>
      <span class="bt">
        <span class="nm">
          <Strip number={sheet.shot.number} is_small={!is_next} cut={props.cut} />
          <span>
            {isUnseen(`shot/${shot}`) && <Unseen />}
            <Said>{sheet.shot.title}</Said>
          </span>
        </span>
        <span class="st only-wide">
          <State {...props} />
        </span>
        {columns.map((name) => {
          const one = readiness.departments[name];
          const state = one?.state ?? "none";
          return (
            <span key={name} class="c">
              <span class="unseen dn">{departmentLabel(name)}</span>
              <Mark name={markOf(state)} is_small />
              <span class={state === "done" ? "w done unseen" : "w"}>{one?.word ?? "no word"}</span>
              <span class="unseen">. </span>
            </span>
          );
        })}
      </span>
      <span class="st">
        <State {...props} />
      </span>
    </a>
  );
}
