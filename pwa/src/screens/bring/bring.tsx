// A list that people have, pasted or from a file: what the rules make of it is shown, corrected, and taken whole.
import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";
import { save } from "../../acting";
import { useSlow } from "../../asked";
import { recordNow } from "../../day_signals";
import { ask, type ScreenAct } from "../../engine/client";
import type { RecordKey, Value } from "../../engine/contract";
import { Fold, Head, NotSaved, Progress } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { useGoing, Waiting } from "../../parts/slow";
import { link } from "../../routing";
import { words } from "../../words";
import { Choices, Chooser } from "../record/chosen_entry";
import { type Brought, type Done, done, NOTHING_SAID, said, say, useBrought } from "./asking";
import { DayFileScreen } from "./day_file";
import { decoded } from "./decoded";

const w = words.bring;
const UNITS = ["m", "cm", "mm", "ft", "in"];
const MASS_UNITS = ["kg", "lb"];
const SHOWN_FAULTS = 20;
const LONG_PASTE = 50_000;

export function FileEntry(props: { label: string; accept: string; onFile: (file: File) => void }) {
  const id = useId();
  return (
    <div class="entry">
      <label class="name" for={id}>
        {props.label}
      </label>
      <input
        id={id}
        type="file"
        accept={props.accept}
        onChange={({ currentTarget }) => {
          const [file] = currentTarget.files ?? [];
          if (file) props.onFile(file);
          currentTarget.value = ""; // so that the same file can be chosen again
        }}
      />
    </div>
  );
}

function Columns({ found }: { found: Brought }) {
  const fields = found.columns.map(({ field }) => field);
  return (
    <Fold title={w.columns} count={found.columns.length}>
      <p class="para sub">{w.column_more}</p>
      {found.columns.map((column, at) => {
        const id = `column-${at}`;
        const choices = column.takes_unit && column.unit.match(/kg|lb/) ? MASS_UNITS : UNITS;
        return (
          <div key={id} class="entry">
            <label class="name" for={id}>
              <Said>{column.heading}</Said>
            </label>
            <Chooser
              id={id}
              options={found.options.map(({ field, label }) => ({ value: field, word: label }))}
              chosen={column.field}
              nothing={w.leave_out}
              onChoose={(field) => say({ columns: fields.map((one, place) => (place === at ? field : one)) })}
            />
            {column.takes_unit && (
              <>
                <label class="name" for={`${id}u`}>
                  {w.bare_in}
                </label>
                <Chooser
                  id={`${id}u`}
                  options={choices.map((unit) => ({ value: unit, word: unit }))}
                  chosen={choices.includes(column.unit) ? column.unit : ""}
                  nothing={w.both_units}
                  onChoose={(unit) => say({ column_units: { ...said.value.column_units, [at]: unit } })}
                />
              </>
            )}
            {column.field && column.gaps > 0 && (
              <Choices
                label={w.gaps(column.gaps)}
                is_many
                options={[{ value: "fill", word: w.fill_down }]}
                chosen={column.is_filled ? ["fill"] : []}
                onChoose={(chosen) => {
                  const filled = found.columns.flatMap((one, place) =>
                    (place === at ? chosen.length > 0 : one.is_filled) ? [place] : [],
                  );
                  say({ fill_down: filled });
                }}
              />
            )}
            <span class="told">
              <Said>{w.such_as(column.samples)}</Said>
            </span>
          </div>
        );
      })}
    </Fold>
  );
}

function Faults({ found }: { found: Brought }) {
  const { corrections, left_out } = said.value;
  const rows = [...new Set(found.faults.map(({ row }) => row))];
  const leave = (some: number[]) => say({ left_out: [...left_out, ...some].sort((a, b) => a - b) });
  if (!found.faults.length) return null;
  return (
    <section>
      <h2>{w.faults(found.faults.length)}</h2>
      <p class="para sub">{w.faults_more}</p>
      {found.faults.slice(0, SHOWN_FAULTS).map(({ row, column, heading, value, sentence }) => {
        const cell = `${row}/${column}`;
        const id = `cell-${cell}`;
        return (
          <div key={cell} class="entry">
            <label class="name" for={id}>
              <Said>{w.row(row, heading)}</Said>
            </label>
            <input
              id={id}
              type="text"
              dir="auto"
              autocomplete="off"
              placeholder={w.put_right}
              value={corrections[cell] ?? value}
              aria-describedby={`${id}t`}
              onChange={(event) =>
                say({ corrections: { ...corrections, [cell]: event.currentTarget.value } })
              }
            />
            <span class="told refused" id={`${id}t`}>
              <Said>{sentence}</Said>
            </span>
            <div class="btns">
              <button type="button" class="btn" onClick={() => leave([row])}>
                {w.leave_row(row)}
              </button>
            </div>
          </div>
        );
      })}
      {rows.length > 1 && (
        <div class="actions btns">
          <button type="button" class="btn" onClick={() => leave(rows)}>
            {w.leave_all(rows.length)}
          </button>
        </div>
      )}
    </section>
  );
}

function Rows({ found }: { found: Brought }) {
  const states = [...new Set(found.rows.map(({ state }) => state))];
  const count = (state: string) => found.rows.filter((row) => row.state === state).length;
  const differ = found.rows.some(({ differs }) => differs.length);
  return (
    <>
      <Fold
        title={words.join_words(states.map((state) => w.counted(count(state), w.states[state] ?? state)))}
        count={found.rows.length}
        is_open={differ}
      >
        {found.rows.map(({ row, title, state, differs }) => (
          <p key={row} class="line">
            <span>
              <Said>{title}</Said>, {w.states[state] ?? state}
            </span>
            {differs.map((sentence) => (
              <span key={sentence} class="n">
                <Said>{sentence}</Said>
              </span>
            ))}
          </p>
        ))}
      </Fold>
      {differ && (
        <div class="entry">
          <Choices
            label={w.differs_more}
            is_many
            options={[{ value: "list", word: w.list_is_right }]}
            chosen={said.value.list_is_right ? ["list"] : []}
            onChoose={(chosen) => say({ list_is_right: chosen.length > 0 })}
          />
        </div>
      )}
    </>
  );
}

/** Acts that take what came in off the day again: new records are removed, what was filled in is unset. */
export async function actsBack(
  acts: ScreenAct[],
  back: ScreenAct[],
  was_there: boolean[],
): Promise<ScreenAct[]> {
  const undone: ScreenAct[] = [];
  for (const [place, { kind, record }] of acts.entries()) {
    const key: RecordKey = `${kind}/${record}`;
    const unset = back[place];
    if (was_there[place]) {
      if (unset) undone.push(unset);
      continue;
    }
    const answer = await ask({ do: "removal", record: key, records: { [key]: recordNow(key) ?? {} } });
    if (answer.ok) undone.push({ kind, record, set: { present: answer.value as Value } });
  }
  return undone;
}

function Take({ found, is_current }: { found: Brought; is_current: boolean }) {
  const { is_going, failed, run } = useGoing();
  const [refused, setRefused] = useState("");
  const rows = found.rows.filter(({ state }) => state !== "same").length;
  const take = async () => {
    const acts = found.acts as ScreenAct[];
    const was_there = acts.map(({ kind, record }) => recordNow(`${kind}/${record}`) !== undefined);
    const answer = await save(acts, "", undefined, true);
    setRefused(answer.reasons[0]?.sentence ?? "");
    if (!answer.saved) return;
    done.value = { rows, acts, back: answer.back, was_there, is_back: false };
  };
  if (found.faults.length) return null;
  return (
    <div class="actions">
      {found.acts.length === 0 ? (
        <p>{rows ? w.nothing_new : w.nothing_to_do}</p>
      ) : (
        <div class="btns">
          <button
            type="button"
            class="btn solid"
            disabled={is_going || !is_current}
            onClick={() => void run(take)}
          >
            {w.do(rows, w.kinds[found.kind] ?? found.kind)}
          </button>
        </div>
      )}
      <Waiting sentence={w.saving} is_going={is_going} />
      <NotSaved sentence={failed || refused} />
    </div>
  );
}

function DoneWith({ rows, acts, back, was_there, is_back }: Done) {
  const { is_going, failed, run } = useGoing();
  const takeBack = async () => {
    const { saved, reasons } = await save(await actsBack(acts, back, was_there), "", undefined, true);
    if (!saved) throw new Error(reasons[0]?.sentence);
    done.value = { rows, acts, back, was_there, is_back: true };
  };
  return (
    <div class="actions" role="status">
      <p>
        <b>{is_back ? w.taken_back : w.done(rows)}</b>
      </p>
      <div class="btns">
        <a class="btn solid" href={link("day")}>
          {w.look}
        </a>
        <button type="button" class="btn" disabled={is_going || is_back} onClick={() => void run(takeBack)}>
          {w.take_back}
        </button>
      </div>
      <Waiting sentence={words.wait.saving} is_going={is_going} />
      <NotSaved sentence={failed} />
    </div>
  );
}

const Notes = ({ children }: { children: ComponentChildren }) => <p class="para sub">{children}</p>;

function BringList() {
  const { text, read_as, left_out } = said.value;
  const { answer, refusal, is_current } = useBrought();
  const found = text.trim() ? answer : null;
  const is_slow = useSlow(text.trim() !== "" && !is_current && !refusal);
  const begin = (more: { text: string; read_as: string }) => {
    done.value = null;
    say({ ...NOTHING_SAID, ...more });
  };
  const readFile = async (file: File) => {
    const { text, encoding } = decoded(new Uint8Array(await file.arrayBuffer()));
    begin({ text, read_as: text.trim() ? w.file_read(file.name, encoding) : w.file_empty(file.name) });
  };
  return (
    <>
      <Head number={w.title} />
      <p class="para">{w.lead}</p>
      <div class="entry">
        <label class="name" for="bring-text">
          {w.box}
        </label>
        <textarea
          id="bring-text"
          dir="auto"
          spellcheck={false}
          wrap="off"
          value={text}
          onPaste={(event) => {
            const pasted = event.clipboardData?.getData("text/plain") ?? "";
            if (pasted.length < LONG_PASTE) return;
            event.preventDefault(); // browsers put long texts in line by line, for minutes
            begin({ text: pasted, read_as: "" });
          }}
          onInput={(event) => begin({ text: event.currentTarget.value, read_as: "" })}
        />
        <span class="told" role="alert">
          <Said>{text.trim() && refusal ? refusal : read_as}</Said>
        </span>
      </div>
      <FileEntry label={w.file} accept=".csv,.tsv,.txt,text/*" onFile={(file) => void readFile(file)} />
      <Progress sentence={w.reading} is_slow={is_slow} />
      {done.value && <DoneWith {...done.value} />}
      {found && !done.value && !refusal && (
        <>
          <div class="entry">
            <Choices
              label={w.kind}
              options={Object.entries(w.kinds).map(([value, word]) => ({ value, word }))}
              chosen={[found.kind]}
              onChoose={([kind]) =>
                say({ kind: kind ?? "", columns: null, fill_down: null, corrections: {} })
              }
            />
          </div>
          <Take found={found} is_current={is_current} />
          <Faults found={found} />
          {left_out.length > 0 && (
            <div class="actions">
              <p>{w.rows_left(left_out)}</p>
              <div class="btns">
                <button type="button" class="btn" onClick={() => say({ left_out: [] })}>
                  {w.take_all}
                </button>
              </div>
            </div>
          )}
          {found.notes.map((note) => (
            <Notes key={note}>
              <Said>{note}</Said>
            </Notes>
          ))}
          <Rows found={found} />
          <Columns found={found} />
        </>
      )}
    </>
  );
}

export const BringScreen = ({ parts }: { parts: string[] }) =>
  parts[0] === "day" ? <DayFileScreen /> : <BringList />;
