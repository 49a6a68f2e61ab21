// The editor of any record, made from the table of kinds. Every field saves by itself; nothing waits for a button.
import { useRef, useState } from "preact/hooks";
import { useSlow } from "../../asked";
import { rowsOf, shots_in_order, titleOf, unsent_lines } from "../../day_reads";
import { cellMark, paintedIds, presenceNow, record as recordSignal } from "../../day_signals";
import { useInView } from "../../in_view";
import { kindNamed, kinds_table } from "../../kinds_table";
import { Empty, Fold, Head, Progress } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { link, place } from "../../routing";
import type { FieldRow, KindRow } from "../../sheet_types";
import { words } from "../../words";
import { PhotographsOf } from "../photograph/photographs_of";
import { Ticking } from "../shot/ticking";
import { ChosenEntry } from "./chosen_entry";
import { NOT_TYPED } from "./drafts";
import { isOfLight, LightBeside, useLevelsBefore } from "./light_beside";
import { NotesOn } from "./notes_on";
import { PartsOf } from "./parts_of";
import { PlaceBy } from "./place_by";
import { RemoveRecord } from "./remove_record";
import { Trial } from "./trial";
import { TypedEntry } from "./typed_entry";

const TYPED = ["text", "long_text", "count", "quantity", "time"];
const CHOSEN = ["choice", "department", "departments", "reference"];
const FIRST_FIELDS = 6;

function TickEntry({ record, field }: { record: string; field: FieldRow }) {
  for (const { sheet } of shots_in_order.value) {
    const row = rowsOf(sheet).find((one) => one.record === record && one.field === field.name);
    if (row) return <Ticking row={row} />;
  }
  return null;
}

function Entry({ record, field, shot }: { record: string; field: FieldRow; shot: string }) {
  const [is_saved, setSaved] = useState(false);
  const { before, note } = useLevelsBefore(record, shot);
  const kind = record.slice(0, record.indexOf("/"));
  const is_wanted = place.value.about.get("field") === field.name;
  const given = { record, field, is_wanted, onBegin: note, onSaved: () => setSaved(true) };
  const mark = cellMark(recordSignal(record).value?.[field.name]);
  if (field.type === "tick") return <TickEntry record={record} field={field} />;
  return (
    <>
      {TYPED.includes(field.type) ? <TypedEntry {...given} /> : <ChosenEntry {...given} />}
      {mark >= 2 && (
        <a class="row plain need" href={link("two", [kind, record.slice(kind.length + 1), field.name])}>
          <span>
            <b class="act">{words.two.title}</b> {words.dock.look}
          </span>
        </a>
      )}
      {is_saved && isOfLight(kind) && <LightBeside record={record} shot={shot} before={before} />}
    </>
  );
}

/** What is filled in already, what was asked for, and the first few: the rest is folded, and stays where it is. */
function useFieldsInSight(record: string, fields: FieldRow[]): Set<string> {
  const in_sight = useRef<Set<string> | null>(null);
  if (!in_sight.current) {
    const known = recordSignal(record).peek() ?? {};
    const wanted = place.value.about.get("field");
    const shown_now = fields.filter(
      ({ name }, index) => index < FIRST_FIELDS || name === wanted || paintedIds(known[name]).length > 0,
    );
    in_sight.current = new Set(shown_now.map(({ name }) => name));
  }
  return in_sight.current;
}

function Form({ record, kind, shot }: { record: string; kind: KindRow; shot: string }) {
  const fields = kind.fields.filter(
    ({ name, type }) =>
      !NOT_TYPED.includes(name) && (type === "tick" || TYPED.includes(type) || CHOSEN.includes(type)),
  );
  const in_sight = useFieldsInSight(record, fields);
  const entry = (field: FieldRow) => <Entry key={field.name} record={record} field={field} shot={shot} />;
  const more = fields.filter(({ name }) => !in_sight.has(name));
  return (
    <div class="form">
      {kind.reserved.length > 0 && <p class="para sub">{words.record.reserved}</p>}
      <Waits record={record} />
      {fields.filter(({ name }) => in_sight.has(name)).map(entry)}
      {more.length > 0 && (
        <Fold title={words.record.more_fields} count={more.length}>
          {more.map(entry)}
        </Fold>
      )}
    </div>
  );
}

/** What was written of it here and waits for the server's word. */
function Waits({ record }: { record: string }) {
  const lines = unsent_lines.value.filter((line) => line.record === record && isReserved(record));
  if (!lines.length) return null;
  const said = lines.flatMap(({ set }) => Object.values(set).map((value) => String(value ?? "")));
  return (
    <p class="notice">
      <b>{words.build.waits}</b> <Said>{said.filter(Boolean).join(", ")}</Said>
    </p>
  );
}

const isReserved = (record: string): boolean =>
  !!kindNamed(record.slice(0, record.indexOf("/")))?.reserved.length;

export function RecordScreen({ parts, about }: { parts: string[]; about: URLSearchParams }) {
  const [kind_name = "", id = ""] = parts;
  const record = `${kind_name}/${id}`;
  const shot = about.get("shot") ?? "";
  const kind = kindNamed(kind_name);
  const fields = recordSignal(record).value;
  const is_slow = useSlow(!kind && kinds_table.value.kinds.length === 0);
  useInView(record, kind_name === "shot" ? id : shot);
  if (!kind) {
    return kinds_table.value.kinds.length ? (
      <Empty sentence={words.record.newer} />
    ) : (
      <Progress sentence={words.wait.rules} is_slow={is_slow} />
    );
  }
  const presence = presenceNow(record);
  const is_known = fields !== undefined || kind_name === "day"; // a new day's facts are not written yet
  return (
    <>
      <Head number={kind.label} name={fields ? titleOf(record) : ""} />
      {presence === "back" && (
        <p class="notice">
          <b>{words.record.back}</b>
        </p>
      )}
      {!is_known && <Empty sentence={words.record.none} />}
      {fields && presence === "removed" ? (
        <RemoveRecord record={record} is_removed />
      ) : (
        is_known && (
          <>
            <Form key={record} record={record} kind={kind} shot={shot} />
            <PhotographsOf record={record} />
            <NotesOn record={record} />
            <PartsOf record={record} kind={kind} shot={shot} />
            {kind.fields.some(({ name }) => name === "x_m") && <PlaceBy record={record} />}
            <Trial record={record} shot={kind_name === "shot" ? id : shot} />
          </>
        )
      )}
      <div class="actions btns">
        {kind_name !== "day" && (
          <a class="btn" href={link("add", [kind_name], { like: record, shot })}>
            {words.build.like_it}
          </a>
        )}
        <a class="btn" href={link("history", [kind_name, id])}>
          {words.record.history}
        </a>
        <a class="btn" href={link("raise", [], { on: record, shot })}>
          {words.nav.raise}
        </a>
      </div>
      {fields && presence !== "removed" && kind_name !== "day" && <RemoveRecord record={record} />}
    </>
  );
}
