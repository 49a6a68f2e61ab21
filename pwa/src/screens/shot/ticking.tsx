// A row with this phone's own acts painted over it: the one place where rows are ticked.

import { paintedRow, tick_mode, toggle } from "../../acting";
import { useSlow } from "../../asked";
import { timeOfDay } from "../../clock";
import { isUnsent, personName } from "../../day_reads";
import { fieldNamed } from "../../kinds_table";
import { TickRow } from "../../parts/tick_row";
import { link, recordLink } from "../../routing";
import { isUnseen, looked } from "../../seen";
import type { Row } from "../../sheet_types";
import { last_row } from "../../touch";
import { words } from "../../words";

/** Safety ticks name the person; ordinary ticks name nobody, so that an honest tick costs nothing. */
const SAFETY = ["safety_on", "round_done"];

function whenOf(row: Row, state: Row["state"], is_unsent: boolean): string {
  if (state !== "done" && state !== "two") return "";
  return words.join_words([
    row.at_ms && row.state === state ? timeOfDay(row.at_ms) : "",
    row.for_whom ? words.history.for_whom(personName(row.for_whom)) : "",
    SAFETY.includes(row.field) && row.by ? personName(row.by) : "",
    row.how === "paper" ? words.tick.from_paper : "",
    is_unsent ? words.save.unsent : "",
  ]);
}

export function Ticking({ row }: { row: Row }) {
  const { state, is_saving, failed, own_id } = paintedRow(row);
  const is_slow = useSlow(is_saving);
  const is_unsent = isUnsent(own_id ? [own_id] : row.painted[row.field]);
  const [kind = "", id = ""] = row.record.split("/");
  const leads_to = tick_mode.value.opens
    ? recordLink(row.record)
    : state === "two" && fieldNamed(kind, row.field)
      ? link("two", [kind, id, row.field])
      : undefined;
  return (
    <TickRow
      row={row}
      state={state}
      is_unsent={is_unsent}
      is_unseen={isUnseen(row.record)}
      is_saving={is_slow}
      failed={failed}
      when={whenOf(row, state, is_unsent)}
      leads_to={leads_to}
      onTick={() => {
        looked(row.record);
        last_row.value = { record: row.record, title: row.title };
        void toggle(row);
      }}
    />
  );
}
