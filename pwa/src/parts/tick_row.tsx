// One row, one target: tap anywhere on it. It knows nothing of the day; the screen says what it shows and does.
import { useId } from "preact/hooks";
import type { Row } from "../sheet_types";
import { words } from "../words";
import { Caution, NotSaved } from "./blocks";
import { Figure } from "./figures";
import { Mark, markOf } from "./mark";
import { Said, Unseen } from "./said";

export type TickRowProps = {
  row: Row;
  state: Row["state"];
  is_unsent: boolean;
  /** An act on it has been going on for over a second. */
  is_saving: boolean;
  failed: string;
  /** "14:10, unsent": stands in the second line. */
  when: string;
  /** Where a tap leads instead of ticking. */
  leads_to?: string | undefined;
  /** Another department changed it since it was looked at. */
  is_unseen: boolean;
  onTick: () => void;
};

export function TickRow(props: TickRowProps) {
  const { row, state } = props;
  const id = useId();
  const needs = state === "again" || state === "two";
  // What the phone did not store is not shown as ticked, though this tab knows of it.
  const is_lost = props.failed !== "" && state === "done";
  const inside = (
    <>
      <Mark name={is_lost ? "unk" : markOf(state, props.is_unsent)} />
      <span>
        <span class="t" id={`${id}t`}>
          {row.must ? (
            <b>
              <Said>{row.title}</Said>
            </b>
          ) : (
            <Said>{row.title}</Said>
          )}
        </span>
        <span class="n" id={`${id}n`}>
          {props.is_unseen && <Unseen />}
          {state === "again" && (
            <>
              <b class="act">{words.tick.again}</b> <Said>{row.changes.join(" ")}</Said>
            </>
          )}
          {state === "two" && (
            <>
              <b class="act">{words.two.title}</b> {words.two.not_done_counts}{" "}
            </>
          )}
          {state === "off" && `${words.tick.marks.off}. `}
          {state !== "again" && <Said>{words.join_words([row.second, is_lost ? "" : props.when])}</Said>}
          {props.is_saving && ` ${words.wait.saving} …`}
        </span>
        <NotSaved sentence={props.failed} />
      </span>
      <Figure amount={row.amount} unit={row.unit} />
      <Caution caution={row.caution} id={`${id}c`} />
    </>
  );
  const looks = `row${needs ? " need" : ""}${(state === "done" && !is_lost) || state === "off" ? " done" : ""}`;
  const told = { "aria-labelledby": `${id}t`, "aria-describedby": `${id}n ${id}c` };
  if (props.leads_to) {
    return (
      <a class={looks} href={props.leads_to}>
        {inside}
      </a>
    );
  }
  if (state === "off") return <div class={looks}>{inside}</div>;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a checkbox element cannot hold a row; the role says the same
    <button
      type="button"
      role="checkbox"
      aria-checked={state === "again" || is_lost ? "mixed" : state === "done"}
      class={looks}
      onClick={props.onTick}
      {...told}
    >
      {inside}
    </button>
  );
}
