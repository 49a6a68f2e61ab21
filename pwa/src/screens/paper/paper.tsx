// A checklist that was ticked by pen, entered at once: numbered as printed, for whoever ticked, one save, one undo.
import { useState } from "preact/hooks";
import { paintedRow, save } from "../../acting";
import { useAnswer, useSlow } from "../../asked";
import { personName, type ShotNow, shots_in_order } from "../../day_reads";
import { recordsOf } from "../../day_signals";
import { useInView } from "../../in_view";
import { Caution, Empty, Head, NotSaved, Progress } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { Tabs } from "../../parts/tabs";
import { link } from "../../routing";
import type { Caution as CautionWords, Row } from "../../sheet_types";
import { words } from "../../words";
import { Chooser } from "../record/chosen_entry";
import { NoShot } from "../shot/no_shot";

const w = words.record_of_day.paper;

export type PaperRow = {
  number: number;
  department: string;
  label: string;
  row: Row;
  /** In full where the list has it first; further down `above` names it. */
  caution: CautionWords | null;
  above: string;
};
export type PaperList = { code: string; rows: PaperRow[] };

export const keyOf = ({ record, field }: Row): string => `${record}/${field}`;

/** The list as it stands on paper; null until the rules have answered. */
export function usePaperList({ sheet, shot, summary }: ShotNow) {
  return useAnswer<{ list: PaperList }>({ do: "paper_list", rows: sheet.rows }, [shot, summary.computed_ms]);
}

function Box(props: { one: PaperRow; is_on: boolean; onTick: () => void }) {
  const { number, row, caution, above } = props.one;
  const { state } = paintedRow(row);
  const is_done = state === "done";
  return (
    <label class="row pen">
      <input
        type="checkbox"
        checked={is_done || props.is_on}
        disabled={is_done || state === "two"}
        onChange={props.onTick}
      />
      <span class="pen-box" aria-hidden="true" />
      <span>
        <span class="t">
          <b>{number}</b> <Said>{row.title}</Said>
        </span>
        <span class="n">
          {is_done && <b>{w.was_done}. </b>}
          {state === "two" && <b>{w.two}. </b>}
          <Said>{words.join_words([row.second, ...row.changes, above && w.above(above)])}</Said>
        </span>
      </span>
      <span class="fig small">
        <Said>{`${row.amount} ${row.unit}`.trim()}</Said>
      </span>
      <Caution caution={caution} />
    </label>
  );
}

function Boxes({ found, list, department }: { found: ShotNow; list: PaperList; department: string }) {
  const [chosen, setChosen] = useState<Set<string>>(new Set());
  const [for_whom, setForWhom] = useState("");
  const [failed, setFailed] = useState("");
  const [saved, setSaved] = useState(0);
  const people = recordsOf("person").value.map((key) => key.slice("person/".length));
  const rows = list.rows.map(({ row }) => row).filter((row) => chosen.has(keyOf(row)));
  const toggle = (row: Row) => {
    const next = new Set(chosen);
    if (!next.delete(keyOf(row))) next.add(keyOf(row));
    setChosen(next);
    setSaved(0);
  };
  const keep = async () => {
    const acts = rows.map((row) => {
      const slash = row.record.indexOf("/");
      return {
        kind: row.record.slice(0, slash),
        record: row.record.slice(slash + 1),
        set: { [row.field]: row.value_if_ticked },
        painted: { [row.field]: row.painted[row.field] ?? [] },
        for_whom,
        how: "paper" as const,
      };
    });
    const answer = await save(acts, w.said(found.sheet.shot.number, acts.length));
    setFailed(answer.reasons[0]?.sentence ?? "");
    if (!answer.saved) return;
    setSaved(acts.length);
    setChosen(new Set());
  };
  const shown = list.rows.filter((one) => !department || one.department === department);
  let heading = "";
  return (
    <>
      <div class="entry">
        <label class="name" for="paper-who">
          {w.who}
        </label>
        <Chooser
          id="paper-who"
          options={people.map((id) => ({ value: id, word: personName(id) }))}
          chosen={for_whom}
          nothing={w.who_none}
          onChoose={setForWhom}
        />
      </div>
      {shown.map((one) => {
        const is_new = one.label !== heading;
        heading = one.label;
        return (
          <div key={keyOf(one.row)}>
            {is_new && <h2>{one.label}</h2>}
            <Box one={one} is_on={chosen.has(keyOf(one.row))} onTick={() => toggle(one.row)} />
          </div>
        );
      })}
      <div class="actions">
        <div class="btns">
          <button type="button" class="btn solid" disabled={!rows.length} onClick={() => void keep()}>
            {w.save(rows.length)}
          </button>
        </div>
        <p role="status">{saved > 0 && w.saved(saved)}</p>
        <NotSaved sentence={failed} />
      </div>
    </>
  );
}

function OneShot({ found, department }: { found: ShotNow; department: string }) {
  const { answer, refusal } = usePaperList(found);
  const is_slow = useSlow(!answer && !refusal);
  if (!answer)
    return refusal ? (
      <Empty sentence={refusal} />
    ) : (
      <Progress sentence={words.wait.working} is_slow={is_slow} />
    );
  const { list } = answer;
  if (!list.rows.length) return <Empty sentence={w.empty} />;
  const departments = [...new Map(list.rows.map((one) => [one.department, one.label]))];
  const tab = (key: string, word: string) => ({ key, word, href: link("paper", [found.shot, key]) });
  return (
    <>
      <p class="para sub">
        {w.lead} {w.code(list.code)}
      </p>
      <Tabs
        name={w.department}
        current={department}
        tabs={[tab("", w.all), ...departments.map(([name, label]) => tab(name, label))]}
      />
      <Boxes found={found} list={list} department={department} />
    </>
  );
}

export function PaperScreen({ parts }: { parts: string[] }) {
  const shot = parts[0] ?? "";
  const found = shots_in_order.value.find((one) => one.shot === shot);
  useInView(found ? `shot/${shot}` : "", found ? shot : "");
  if (!found) return <NoShot title={words.nav.shot} />;
  return (
    <>
      <Head number={found.sheet.shot.number} name={found.sheet.shot.title} lines={[w.title]} />
      <OneShot key={shot} found={found} department={parts[1] ?? ""} />
    </>
  );
}
