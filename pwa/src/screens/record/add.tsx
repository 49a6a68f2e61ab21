// Adding a record: what names it and what it belongs to; everything else is filled in on its own page.
import { useState } from "preact/hooks";
import { type SaveAnswer, save } from "../../acting";
import { timeOfDay } from "../../clock";
import { shots_in_order } from "../../day_reads";
import { recordNow, recordsOf, shown } from "../../day_signals";
import { ask, newId } from "../../engine/client";
import type { Value } from "../../engine/contract";
import { kindNamed } from "../../kinds_table";
import { Empty, Head, NotSaved } from "../../parts/blocks";
import { goInstead, link, recordLink } from "../../routing";
import type { FieldRow, KindRow, Sheet } from "../../sheet_types";
import { words } from "../../words";
import { ReadMeter } from "../shot/read_meter";
import { Choices, Chooser, optionsOf } from "./chosen_entry";
import { FieldUnit } from "./shown_value";
import { readTyped } from "./typed";

const NAMING = ["number", "title", "name", "text", "what"];
/** Where naming and belonging is not enough to be of use. */
const ALSO: { [kind: string]: string[] } = {
  task: ["department", "must"],
  reading: ["role", "illuminance_lx"],
  layer: ["type"],
  level: ["role"],
  serves: ["use"],
  point: ["type"],
  booking: ["count"],
  kit: ["owner", "count"],
  used: ["on", "amount_l", "amount", "take"],
};
const ORDER_STEP = 10;

const firstFields = (kind: KindRow): FieldRow[] =>
  kind.fields.filter(
    ({ name, type }) =>
      (NAMING.includes(name) && type !== "choice") || type === "reference" || ALSO[kind.name]?.includes(name),
  );

/** What is known without asking: the shot and scene one came from, the only one of its kind. */
function given(field: FieldRow, about: URLSearchParams): string {
  const said = about.get(field.name);
  if (said) return field.choices.length && !field.choices.includes(said) ? "" : said;
  if (field.type !== "reference") return "";
  const shot = about.get("shot");
  if (field.kind === "scene" && shot) {
    const scene = shown(recordNow(`shot/${shot}`)?.scene);
    if (typeof scene === "string") return scene;
  }
  const keys = recordsOf(field.kind).value;
  return field.kind === "scene" && keys.length === 1 ? (keys[0]?.slice("scene/".length) ?? "") : "";
}

const nextOrder = (kind: string): number =>
  Math.max(
    0,
    ...recordsOf(kind).value.map((key) => {
      const order = shown(recordNow(key)?.order);
      return typeof order === "number" ? order : 0;
    }),
  ) + ORDER_STEP;

/** A reading remembers what burned when it was taken; the rules say what that is. */
async function takenFor(set: { [field: string]: Value }): Promise<{ [field: string]: Value }> {
  const found = shots_in_order.value.find(({ shot }) => shot === set.shot);
  if (!found || !set.point) return {};
  const reads = (found.sheet as Sheet).reads;
  const records = Object.fromEntries(reads.flatMap((key) => (recordNow(key) ? [[key, recordNow(key)]] : [])));
  const answer = await ask({
    do: "taken_for",
    shot: set.shot,
    point: `point/${set.point}`,
    role: set.role || "all",
    records,
  });
  if (!answer.ok) throw new Error(answer.sentence);
  return { ...(answer.set as { [field: string]: Value }), taken_time: timeOfDay(Date.now()) };
}

/** Two phones without signal make the same record: the rules name one that has two ends by them. */
async function idOfEnds(kind: string, set: { [field: string]: Value }): Promise<string> {
  const answer = await ask({ do: "record_id", kind, set });
  if (!answer.ok) throw new Error(answer.sentence);
  return String(answer.id);
}

function useAdd(kind: KindRow, about: URLSearchParams) {
  const [typed, setTyped] = useState<{ [field: string]: string }>(() =>
    Object.fromEntries(firstFields(kind).map((field) => [field.name, given(field, about)])),
  );
  const [reasons, setReasons] = useState<SaveAnswer["reasons"]>([]);
  const [is_saving, setSaving] = useState(false);
  const fields = firstFields(kind);

  const gatherSet = async () => {
    const set: { [field: string]: Value } = {};
    for (const field of fields) {
      const read = await readTyped(kind.name, field, typed[field.name] ?? "");
      if (read.refused) return { refused: [{ field: field.name, sentence: read.refused }], set };
      if (read.value !== null) set[field.name] = read.value;
    }
    const missing = kind.ends.find((end) => !set[end]) ?? (Object.keys(set).length ? "" : fields[0]?.name);
    if (!missing) return { refused: [], set };
    const label = fields.find(({ name }) => name === missing)?.label ?? missing;
    return { refused: [{ field: missing, sentence: words.record.fill_first(label) }], set };
  };
  const add = async () => {
    setSaving(true);
    try {
      const { refused, set } = await gatherSet();
      if (refused.length) return setReasons(refused);
      const more = kind.name === "reading" ? await takenFor(set) : {};
      const ordered: { [field: string]: Value } = kind.fields.some(({ name }) => name === "order")
        ? { order: nextOrder(kind.name) }
        : {};
      const id = kind.ends.length ? await idOfEnds(kind.name, set) : newId();
      const answer = await save([{ kind: kind.name, record: id, set: { ...ordered, ...set, ...more } }]);
      setReasons(answer.reasons);
      if (answer.saved) goInstead(recordLink(`${kind.name}/${id}`, { shot: about.get("shot") ?? "" }));
    } catch (error) {
      setReasons([{ field: "", sentence: error instanceof Error ? error.message : words.save.no_answer }]);
    } finally {
      setSaving(false);
    }
  };
  return { typed, setTyped, reasons, is_saving, fields, add };
}

function AddForm({ kind, about }: { kind: KindRow; about: URLSearchParams }) {
  const { typed, setTyped, reasons, is_saving, fields, add } = useAdd(kind, about);
  const put = (name: string) => (value: string) => setTyped((before) => ({ ...before, [name]: value }));
  return (
    <form
      class="form"
      onSubmit={(event) => {
        event.preventDefault();
        void add();
      }}
    >
      {fields.map((field) => {
        const id = `add-${field.name}`;
        const value = typed[field.name] ?? "";
        const reason = reasons.find((one) => one.field === field.name)?.sentence;
        return (
          <div key={field.name} class="entry">
            {field.type === "choice" ? (
              <Choices
                label={field.label}
                options={optionsOf(field)}
                chosen={value ? [value] : []}
                onChoose={([one]) => put(field.name)(one ?? "")}
              />
            ) : (
              <label class="name" for={id}>
                {field.label}
                <FieldUnit field={field} />
              </label>
            )}
            {(field.type.endsWith("reference") || field.type === "department") && (
              <Chooser id={id} options={optionsOf(field)} chosen={value} onChoose={put(field.name)} />
            )}
            {field.type === "long_text" && (
              <textarea
                id={id}
                value={value}
                onInput={(event) => put(field.name)(event.currentTarget.value)}
              />
            )}
            {(field.type === "text" || field.type === "quantity" || field.type === "count") && (
              <input
                id={id}
                type="text"
                dir="auto"
                autocomplete="off"
                value={value}
                onInput={(event) => put(field.name)(event.currentTarget.value)}
              />
            )}
            <span class={reason ? "told refused" : "told"} role={reason ? "alert" : undefined}>
              {reason}
            </span>
          </div>
        );
      })}
      <div class="actions">
        <div class="btns">
          <button type="submit" class="btn solid" disabled={is_saving}>
            {is_saving ? `${words.wait.saving} …` : words.record.add}
          </button>
        </div>
        <NotSaved sentence={reasons.find((one) => one.field === "")?.sentence ?? ""} />
      </div>
    </form>
  );
}

export function AddScreen({ parts, about }: { parts: string[]; about: URLSearchParams }) {
  const kind = kindNamed(parts[0] ?? "");
  if (!kind) return <Empty sentence={words.wait.rules} next={link("add", parts)} />;
  const shot = about.get("shot") ?? "";
  if (kind.name === "reading" && shots_in_order.value.some((one) => one.shot === shot)) {
    return <ReadMeter about={about} shot={shot} />;
  }
  return (
    <>
      <Head number={words.record.add_title(kind.label)} />
      <AddForm key={kind.name} kind={kind} about={about} />
    </>
  );
}
