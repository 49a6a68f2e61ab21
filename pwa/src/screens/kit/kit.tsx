// The truck's list: what is owned, hired or in the house, where it lies, whether shots need more of it at once. On paper too.
import { useState } from "preact/hooks";
import substitutes from "../../../../seed_data/substitutes.json";
import { offerUndo, save } from "../../acting";
import { useAnswer, useSlow } from "../../asked";
import { now, timeOfDay } from "../../clock";
import { gather } from "../../day_reads";
import { facts, recordsOf } from "../../day_signals";
import { newId } from "../../engine/client";
import type { RecordKey } from "../../engine/contract";
import { useInView } from "../../in_view";
import { Caution, Empty, Fold, Head, NotSaved, Progress, saidOnce } from "../../parts/blocks";
import { Figure as Amount } from "../../parts/figures";
import { Mark } from "../../parts/mark";
import { Said, unbroken } from "../../parts/said";
import { useGoing, Waiting } from "../../parts/slow";
import { Tabs } from "../../parts/tabs";
import { link, recordLink } from "../../routing";
import type { Caution as CautionWords } from "../../sheet_types";
import type { Figure } from "../../sheet_types_of_things";
import { words } from "../../words";
import { actsBack } from "../bring/bring";
import { cautionsOf } from "../shot/figure_rows";

const w = words.bring.kit;

type KitRow = {
  record: RecordKey;
  title: string;
  count: string;
  owner: string;
  place: string;
  rating: string;
  cost: string;
  flame_retardant: string;
  figure: Figure;
  caution: CautionWords | null;
};
type Group = { title: string; rows: KitRow[] };

function Row({ row, by }: { row: KitRow; by: string }) {
  const { figure } = row;
  const where = by === "owner" ? row.place : row.owner;
  const has_count = row.count !== words.bring.kit.not_counted;
  return (
    <a class={`row plain${figure.state === "over" ? " need" : ""}`} href={recordLink(row.record)}>
      <span>
        <span class="t">
          <b>
            <Said>{row.title}</Said>
          </b>
        </span>
        <span class="n">
          <Said>{words.join_words([where, row.rating, row.cost, row.flame_retardant])}</Said>
        </span>
        {figure.state !== "plain" && (
          <span class="n">
            {figure.state === "unknown" && <Mark name="unk" is_small />}
            {figure.label}:{" "}
            <b class={figure.state === "over" ? "act" : undefined}>{unbroken(figure.shown)}</b>
            {figure.word && figure.word !== figure.shown && `, ${figure.word}`}. <Said>{figure.line}</Said>
          </span>
        )}
      </span>
      <Amount amount={has_count ? row.count : "–"} unit={has_count ? w.pieces : row.count} />
      <Caution caution={row.caution} />
    </a>
  );
}

/** Household things in place of kit, each with its caution; one tap puts it on the list, not counted, not proved. */
function Substitutes() {
  const { is_going, failed, run } = useGoing();
  const take = (use: string, how: string, warning: string) => async () => {
    const set = { title: use, owner: "household", flame_retardant: "unknown", note: `${how} ${warning}` };
    const acts = [{ kind: "kit", record: newId(), set }];
    const { saved, reasons, back } = await save(acts);
    if (!saved) throw new Error(reasons[0]?.sentence);
    offerUndo(use, await actsBack(acts, back, [false]));
  };
  return (
    <Fold title={w.substitutes} count={substitutes.rows.length}>
      <p class="para sub">{w.substitutes_more}</p>
      <NotSaved sentence={failed} />
      <Waiting sentence={words.wait.saving} is_going={is_going} />
      {substitutes.rows.map(({ id, does, use, how, caution, warning }) => (
        <button
          key={id}
          type="button"
          class="row plain"
          disabled={is_going}
          onClick={() => void run(take(use, how, warning))}
        >
          <span>
            <span class="t">
              <b>{w.does[does] ?? does}</b>: {use}
            </span>
            <span class="n">
              {how} <span class="do">{w.take}</span>
            </span>
          </span>
          <Caution caution={{ code: caution, sentence: warning }} />
        </button>
      ))}
    </Fold>
  );
}

const Paper = ({ groups }: { groups: Group[] }) => (
  <div class="on-paper" aria-hidden="true">
    <h1>{w.title}</h1>
    {groups.map(({ title, rows }) => (
      <table key={title}>
        <caption>{title}</caption>
        <tbody>
          {rows.map((row) => (
            <tr key={row.record}>
              <td>
                <Mark name="todo" is_small />
              </td>
              <td class="kept">{row.count}</td>
              <td>
                <b>{row.title}</b>
              </td>
              <td class="kept">{row.owner}</td>
              <td>{row.place}</td>
              <td>{words.join_words([row.rating, row.cost, row.flame_retardant])}</td>
              <td>{row.figure.state === "plain" ? "" : `${row.figure.shown} ${row.figure.line}`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    ))}
    {cautionsOf(groups.flatMap(({ rows }) => rows)).map((sentence) => (
      <p key={sentence} class="warn">
        <b>CAUTION</b> {sentence}
      </p>
    ))}
    <p class="printed">{w.printed(timeOfDay(now.value))}</p>
  </div>
);

export function KitScreen({ parts }: { parts: string[] }) {
  const by = parts[0] === "place" ? "place" : "owner";
  const [failed, setFailed] = useState("");
  useInView("", "");
  const { answer, refusal, is_current } = useAnswer<{ groups: Group[] }>(
    { do: "truck_list", by, records: gather(["kit", "booking", "shot", "day"]) },
    [by, facts.value?.edits, recordsOf("kit").value],
  );
  const is_slow = useSlow(!is_current && !refusal);
  const groups = answer?.groups ?? [];
  const print = () => {
    try {
      window.print();
    } catch (error) {
      setFailed(String(error));
    }
  };
  return (
    <>
      <Head number={w.title} />
      <Tabs
        name={w.by}
        current={by}
        tabs={["owner", "place"].map((key) => ({ key, word: w.bys[key] ?? key, href: link("kit", [key]) }))}
      />
      <Progress sentence={words.wait.working} is_slow={is_slow} />
      {refusal && <Empty sentence={words.error.rules} next={refusal} />}
      {answer && groups.length === 0 && <Empty sentence={w.none} next={w.none_do} />}
      {groups.map(({ title, rows }) => (
        <section key={title}>
          <h2>{title}</h2>
          {saidOnce(rows).map((row) => (
            <Row key={row.record} row={row} by={by} />
          ))}
        </section>
      ))}
      <div class="actions">
        <div class="btns">
          <a class="btn" href={link("add", ["kit"])}>
            {w.add}
          </a>
          <a class="btn" href={link("add", ["booking"])}>
            {w.book}
          </a>
        </div>
      </div>
      <div class="actions">
        <div class="btns">
          <a class="btn" href={link("bring")}>
            {words.bring.title}
          </a>
          <button type="button" class="btn" disabled={groups.length === 0} onClick={print}>
            {w.print}
          </button>
        </div>
        <NotSaved sentence={failed} />
      </div>
      <Substitutes />
      <Paper groups={groups} />
    </>
  );
}
