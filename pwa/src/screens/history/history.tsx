// The history of a record: every act on it, newest first. Putting back is a new act; nothing is ever taken out.
import { useEffect, useState } from "preact/hooks";
import { save } from "../../acting";
import { useSlow } from "../../asked";
import { timeOfDay, utcOffsetMin } from "../../clock";
import { idOf, kindOf, personName, titleOf } from "../../day_reads";
import { record as recordSignal } from "../../day_signals";
import { feed, history } from "../../engine/client";
import type { FeedRow, HistoryLine, Value } from "../../engine/contract";
import { useInView } from "../../in_view";
import { fieldNamed } from "../../kinds_table";
import { Empty, Head, Progress } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { units } from "../../preferences";
import { link } from "../../routing";
import { words } from "../../words";
import { Undo } from "../feed/feed";
import { ShownValue } from "../record/shown_value";

type Change = { field: string; from: Value | undefined; to: Value };
type Told = HistoryLine & { changes: Change[] };

/** Each line with what its fields were before: the values of the edits that it had seen. */
function withBefore(lines: HistoryLine[]): Told[] {
  const by_id = new Map(lines.map((line) => [line.id, line]));
  return lines.map((line) => ({
    ...line,
    changes: Object.entries(line.set).map(([field, to]) => {
      const seen = line.seen[field]?.map((id) => by_id.get(id)).find(Boolean);
      return { field, from: seen?.set[field], to };
    }),
  }));
}

const isTyped = (kind: string, field: string): boolean => {
  const type = fieldNamed(kind, field)?.type;
  return !!type && !["tick", "presence", "cells", "verdict"].includes(type);
};

function who(line: HistoryLine): string {
  const h = words.history;
  return words.join_words([
    personName(line.by) || h.hows[line.how] || words.two.unknown_person,
    line.for_whom ? h.for_whom(personName(line.for_whom)) : "",
    line.by ? (h.hows[line.how] ?? "") : "",
  ]);
}

function when(line: HistoryLine): string {
  const h = words.history;
  return words.join_words([
    h.claimed(timeOfDay(line.at_ms)),
    line.received_ms ? h.received(timeOfDay(line.received_ms)) : line.sent ? h.sent : h.unsent,
    line.carrier ? h.carrier(line.carrier) : "",
  ]);
}

function Line({ line, record, row }: { line: Told; record: string; row: FeedRow | undefined }) {
  const kind = kindOf(record);
  const putBack = ({ field, to }: Change) =>
    void save(
      [{ kind, record: idOf(record), set: { [field]: to } }],
      fieldNamed(kind, field)?.label ?? field,
    );
  return (
    <li class="line">
      {line.changes.map((change) => {
        const label = fieldNamed(kind, change.field)?.label ?? change.field;
        const stands = line.live.includes(change.field);
        return (
          <div key={change.field} class="change">
            <span>
              {label}:{" "}
              {change.from !== undefined && (
                <>
                  <ShownValue kind={kind} field={change.field} value={change.from} />{" "}
                  {words.history.changed_to}{" "}
                </>
              )}
              <b>
                <ShownValue kind={kind} field={change.field} value={change.to} />
              </b>
              {!stands && <span class="sub">, {words.history.replaced}</span>}
            </span>
            {!stands && isTyped(kind, change.field) && (
              <button type="button" class="btn narrow" onClick={() => putBack(change)}>
                {words.save.put_back}
              </button>
            )}
          </div>
        );
      })}
      <span class="n">
        <Said>{who(line)}</Said>. {when(line)}
      </span>
      {row && <Undo row={row} />}
      {row?.undo.why_not && <span class="n">{row.undo.why_not}</span>}
      {line.verdicts.map(([says, code, sentence]) => (
        <span key={`${says} ${code}`} class="n">
          <b>{words.history.verdicts[says] ?? says}</b> <Said>{sentence}</Said>
        </span>
      ))}
    </li>
  );
}

export function HistoryScreen({ parts }: { parts: string[] }) {
  const [kind = "", id = ""] = parts;
  const record = `${kind}/${id}`;
  const [lines, setLines] = useState<Told[] | null>(null);
  const [undos, setUndos] = useState<FeedRow[]>([]);
  const [failed, setFailed] = useState("");
  const fields = recordSignal(record).value;
  const is_slow = useSlow(!lines && !failed);
  useInView(record);
  useEffect(() => {
    let is_newest = true;
    const told = { mine: [], units: units.value, utc_offset_min: utcOffsetMin() };
    Promise.all([history(record), feed({ record, count: Number.MAX_SAFE_INTEGER, ...told })]).then(
      ([found, { rows }]) => {
        if (!is_newest) return;
        setLines(withBefore(found).reverse());
        setUndos(rows);
      },
      (error: unknown) => is_newest && setFailed(String(error)),
    );
    return () => {
      is_newest = false;
    };
  }, [record, fields]);
  return (
    <>
      <Head number={words.history.title} name={fields ? titleOf(record) : ""} />
      <Progress sentence={words.wait.reading_day} is_slow={is_slow} />
      {failed && <Empty sentence={words.error.title} next={failed} />}
      {lines?.length === 0 && <Empty sentence={words.history.empty} />}
      <ol>
        {lines?.map((line) => (
          <Line key={line.id} line={line} record={record} row={undos.find(({ id }) => id === line.id)} />
        ))}
      </ol>
      <div class="actions btns">
        <a class="btn" href={link("record", [kind, id])}>
          {words.record.edit}
        </a>
      </div>
    </>
  );
}
