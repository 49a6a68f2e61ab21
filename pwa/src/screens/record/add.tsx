// Adding a record: what names it and what it belongs to; everything else is filled in on its own page.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { idOfEnds, type SaveAnswer, save } from "../../acting";
import { timeOfDay } from "../../clock";
import { gather, shots_in_order } from "../../day_reads";
import { recordNow, recordsOf, shown } from "../../day_signals";
import { ask, newId } from "../../engine/client";
import type { Value } from "../../engine/contract";
import { kindNamed } from "../../kinds_table";
import { Empty, Fold, Head, NotSaved } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { link, onward, recordLink } from "../../routing";
import type { FieldRow, KindRow, Sheet } from "../../sheet_types";
import { words } from "../../words";
import { isWide } from "../frame/beside";
import { ReadMeter } from "../shot/read_meter";
import { Choices, Chooser, optionsOf } from "./chosen_entry";
import { last_kind, NOT_TYPED } from "./drafts";
import { FieldUnit } from "./shown_value";
import { Trial, trying } from "./trial";
import { PAUSE_MS, readTyped } from "./typed";

const NAMING = ["number", "title", "name", "text", "what"];
/** What a kind is asked for first, in this order; all else stands folded below. Kinds not listed: naming and belonging. */
const FIRST: { [kind: string]: string } = {
  scene: "number title inside time_of_day",
  setup: "title scene lens_mm camera_height_m camera_distance_m",
  shot: "number title scene setup t_stop exposure_index",
  point: "title scene type height_m",
  source: "title scene lamp circuit input_w height_m",
  layer: "title source type width_m height_m gap_m",
  level: "source shot role point distance_m",
  reading: "shot point of_source role illuminance_lx",
  dressing: "title scene place material width_m depth_m",
  serves: "dressing shot use point",
  drink: "title scene mixed_from glass fill_l glasses allergens",
  ingredient: "title drink parts allergens",
  food: "title scene made_from portions allergens",
  mark: "title shot colour place",
  rig: "title source scene load_kg bags overhead",
  circuit: "title place breaker_a voltage_v",
  kit: "title owner count type",
  task: "title department shot must",
  person: "name role departments",
  booking: "kit shot count",
  allergy: "performer what answer",
  used: "on shot amount_l amount take",
};
/** Stands for the record while nobody has made it. */
const TRIED = "tried";
const TYPED = ["text", "long_text", "count", "quantity", "time"];
/** Said by the rules alone while a record is made. */
const UNSEEN = [...NOT_TYPED, "order", "phase"];
const FILLED = [...TYPED, "choice", "department", "departments", "reference"];
/** A reference that was chosen once is meant the next time too: one builds a scene, then the next. */
const last_chosen = new Map<string, string>();
const REMEMBERED = ["scene", "shot", "source", "drink"];

const firstFields = (kind: KindRow): FieldRow[] => {
  const first = FIRST[kind.name]?.split(" ");
  if (first) return first.flatMap((name) => kind.fields.find((field) => field.name === name) ?? []);
  return kind.fields.filter(
    ({ name, type }) => (NAMING.includes(name) && type !== "choice") || type === "reference",
  );
};

const moreFields = (kind: KindRow): FieldRow[] => {
  const first = firstFields(kind);
  return kind.fields.filter(
    (field) => FILLED.includes(field.type) && !first.includes(field) && !UNSEEN.includes(field.name),
  );
};

/** What is known without asking: the shot and scene one came from, the only one of its kind, the one chosen last. */
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
  if (field.kind === "scene" && keys.length === 1) return keys[0]?.slice("scene/".length) ?? "";
  const last = last_chosen.get(field.name) ?? "";
  return keys.includes(`${field.kind}/${last}`) ? last : "";
}

type Texts = { [field: string]: string };

/** A stored value as a form holds it. Departments stand side by side. */
const textOf = (value: Value | undefined): string => {
  if (Array.isArray(value))
    return typeof value[1] === "string" && /\d/.test(String(value[0])) ? value[1] : value.join(" ");
  return value === null || value === undefined ? "" : String(value);
};

/** What a form begins with: the rules say the next number, the usual figures, or those of the one it shall be like. */
async function usualOf(kind: KindRow, about: Texts, like: string): Promise<Texts> {
  const known = Object.fromEntries(Object.entries(about).filter(([, text]) => text));
  const answer = await ask({
    do: "usual",
    kind: kind.name,
    about: known,
    like,
    records: gather([kind.name, "scene"]),
  });
  if (!answer.ok) throw new Error(answer.sentence);
  const set = answer.set as { [field: string]: Value };
  return Object.fromEntries(Object.entries(set).map(([field, value]) => [field, textOf(value)]));
}

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

function useAdd(kind: KindRow, about: URLSearchParams) {
  const first = firstFields(kind);
  const begin = (): Texts => Object.fromEntries(first.map((field) => [field.name, given(field, about)]));
  const [typed, setTyped] = useState<Texts>(begin);
  const touched = useRef(new Set<string>());
  const [reasons, setReasons] = useState<SaveAnswer["reasons"]>([]);
  const [is_saving, setSaving] = useState(false);
  const [added, setAdded] = useState("");
  // What is filled in beforehand is always in sight: nothing is written that nobody saw.
  const [filled, setFilled] = useState<string[]>([]);
  const more = moreFields(kind);
  const fields = [...first, ...more.filter(({ name }) => filled.includes(name))];
  const folded = more.filter(({ name }) => !filled.includes(name));

  const fillUsual = async (known: Texts, like: string) => {
    const usual = await usualOf(kind, known, like);
    setFilled((before) => [...before, ...Object.keys(usual)]);
    setTyped((before) => {
      const next = { ...before };
      for (const name in usual) if (!touched.current.has(name) && !next[name]) next[name] = usual[name] ?? "";
      return next;
    });
  };
  useEffect(() => {
    last_kind.value = kind.name;
    fillUsual(begin(), about.get("like") ?? "").catch((error: unknown) =>
      console.warn("the rules gave nothing to begin with", error),
    );
  }, []);
  // Whoever stands in a field as it is filled in types over it, not behind it.
  useLayoutEffect(() => {
    const at = document.activeElement;
    const is_filled = filled.some((name) => at?.id === `add-${name}` && !touched.current.has(name));
    if (is_filled && at instanceof HTMLInputElement) at.select();
  }, [filled]);
  const put = (name: string) => (value: string) => {
    touched.current.add(name);
    if (REMEMBERED.includes(name)) last_chosen.set(name, value);
    setTyped((before) => ({ ...before, [name]: value }));
    // A shot's number follows its scene.
    if (name !== "scene" || kind.name !== "shot" || touched.current.has("number")) return;
    setTyped((before) => ({ ...before, number: "" }));
    void fillUsual({ scene: value }, "");
  };

  const gatherSet = async () => {
    const set: { [field: string]: Value } = {};
    for (const field of [...first, ...more]) {
      const text = typed[field.name] ?? "";
      if (field.type === "departments") {
        if (text) set[field.name] = text.split(" ");
        continue;
      }
      const read = await readTyped(kind.name, field, text);
      if (read.refused) return { refused: [{ field: field.name, sentence: read.refused }], set };
      if (read.value !== null) set[field.name] = read.value;
    }
    if (typed.order) set.order = Number(typed.order);
    const missing = kind.ends.find((end) => !set[end]) ?? (Object.keys(set).length ? "" : fields[0]?.name);
    if (!missing) return { refused: [], set };
    const label = fields.find(({ name }) => name === missing)?.label ?? missing;
    return { refused: [{ field: missing, sentence: words.record.fill_first(label) }], set };
  };
  const goOn = (id: string, title: string) => {
    setAdded(kind.reserved.length ? words.build.added_waits(title) : words.build.added(title));
    const kept = begin();
    touched.current.clear();
    setTyped((now) => {
      const next: Texts = {};
      for (const name in { ...now, ...kept }) {
        // Whoever was typing the next one already keeps what was typed.
        const is_next = now[name] !== typed[name];
        if (is_next) touched.current.add(name);
        next[name] = (is_next ? now[name] : kept[name]) ?? "";
      }
      return next;
    });
    const key = `${kind.name}/${id}`;
    return fillUsual(kept, recordNow(key) && !kind.reserved.length ? key : "");
  };
  /** Where the cursor belongs then: in the field that was refused, in the first one for another, or nowhere. */
  const add = async (goes_on: boolean): Promise<string | null> => {
    setSaving(true);
    const leave = onward();
    try {
      const { refused, set } = await gatherSet();
      if (refused.length) {
        setReasons(refused);
        return refused[0]?.field || null;
      }
      const taken = kind.name === "reading" ? await takenFor(set) : {};
      const id = kind.ends.length ? await idOfEnds(kind.name, set) : newId();
      const answer = await save([{ kind: kind.name, record: id, set: { ...set, ...taken } }]);
      setReasons(answer.reasons);
      if (!answer.saved) return answer.reasons[0]?.field || null;
      if (goes_on || kind.reserved.length) {
        await goOn(id, String(set.title ?? set.number ?? set.name ?? ""));
        return fields[0]?.name ?? null;
      }
      leave(recordLink(`${kind.name}/${id}`, { shot: about.get("shot") ?? "" }));
    } catch (error) {
      setReasons([{ field: "", sentence: error instanceof Error ? error.message : words.save.no_answer }]);
    } finally {
      setSaving(false);
    }
    return null;
  };
  // What is typed is tried on the shot that it would be in, before there is such a record.
  useEffect(() => {
    let is_newest = true;
    const timer = setTimeout(async () => {
      const { refused, set } = await gatherSet();
      if (!is_newest || !touched.current.size) return;
      const is_figured = !refused.length && Object.values(set).some((value) => Array.isArray(value));
      trying.value = is_figured ? { record: `${kind.name}/${TRIED}`, set, is_new: true } : null;
    }, PAUSE_MS);
    return () => {
      is_newest = false;
      clearTimeout(timer);
      trying.value = null;
    };
  }, [typed]);
  return { typed, put, reasons, is_saving, fields, folded, add, added };
}

type Put = (name: string) => (value: string) => void;

function AddField(props: { field: FieldRow; value: string; reason: string | undefined; put: Put }) {
  const { field, value, reason, put } = props;
  const id = `add-${field.name}`;
  const is_many = field.type === "departments";
  const given = {
    id,
    value,
    onInput: (event: { currentTarget: { value: string } }) => put(field.name)(event.currentTarget.value),
  };
  return (
    <div class="entry" data-field={field.name}>
      {field.type === "choice" || is_many ? (
        <Choices
          label={field.label}
          options={optionsOf(field)}
          chosen={value ? value.split(is_many ? " " : "\n") : []}
          is_many={is_many}
          onChoose={(chosen) => put(field.name)(chosen.join(" "))}
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
      {field.type === "long_text" && <textarea {...given} />}
      {TYPED.includes(field.type) && field.type !== "long_text" && (
        <input {...given} type="text" dir="auto" autocomplete="off" />
      )}
      <span class={reason ? "told refused" : "told"} role={reason ? "alert" : undefined}>
        {reason}
      </span>
    </div>
  );
}

function AddForm({ kind, about }: { kind: KindRow; about: URLSearchParams }) {
  const { typed, put, reasons, is_saving, fields, folded, add, added } = useAdd(kind, about);
  const form = useRef<HTMLFormElement>(null);
  const cursorIn = (name: string) =>
    form.current
      ?.querySelector<HTMLElement>(`[data-field="${name}"] :is(input:checked, input, select, textarea)`)
      ?.focus();
  const submit = async (goes_on: boolean) => {
    const wanted = await add(goes_on);
    if (wanted) cursorIn(wanted);
    if (wanted && wanted === fields[0]?.name) scrollTo(0, 0);
  };
  // On a phone the cursor would bring the keyboard up over the form before anyone has read it.
  useEffect(() => {
    if (isWide() && fields[0]) cursorIn(fields[0].name);
  }, []);
  const field = (one: FieldRow) => (
    <AddField
      key={one.name}
      field={one}
      value={typed[one.name] ?? ""}
      reason={reasons.find(({ field: name }) => name === one.name)?.sentence}
      put={put}
    />
  );
  return (
    <form
      ref={form}
      class="form"
      onSubmit={(event) => {
        event.preventDefault();
        void submit(false);
      }}
    >
      <p class="para sub" role="status">
        <Said>{added}</Said>
      </p>
      {fields.map(field)}
      {folded.length > 0 && (
        <Fold title={words.record.more_fields} count={folded.length}>
          {folded.map(field)}
        </Fold>
      )}
      <Trial record={`${kind.name}/${TRIED}`} shot={about.get("shot") ?? typed.shot ?? ""} />
      <div class="actions">
        <div class="btns">
          <button type="submit" class="btn solid" disabled={is_saving}>
            {is_saving ? `${words.wait.saving} …` : words.record.add}
          </button>
          <button type="button" class="btn" disabled={is_saving} onClick={() => void submit(true)}>
            {words.build.add_go_on}
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
      <AddForm key={`${kind.name} ${about.get("like")}`} kind={kind} about={about} />
    </>
  );
}
