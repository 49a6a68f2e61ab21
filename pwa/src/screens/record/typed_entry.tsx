// A field that is typed: text, long text, a count, a quantity with its unit, a time. Saved when left; refused at once.
import { useEffect, useId, useRef, useState } from "preact/hooks";
import { overlayOf, save } from "../../acting";
import { idOf, kindOf } from "../../day_reads";
import { paintedIds, record as recordSignal, shown } from "../../day_signals";
import type { Value } from "../../engine/contract";
import { NotSaved } from "../../parts/blocks";
import { Said } from "../../parts/said";
import type { FieldRow } from "../../sheet_types";
import { words } from "../../words";
import { isWide } from "../frame/beside";
import { cellKey, drafts } from "./drafts";
import { FieldUnit, useShown } from "./shown_value";
import { trying } from "./trial";
import { PAUSE_MS, type Read, readTyped } from "./typed";

/** The text to begin with: a quantity as it was typed. */
const textOfValue = (field: FieldRow, value: Value | undefined): string => {
  if (value === undefined || value === null) return "";
  if (field.type === "quantity" && Array.isArray(value)) return String(value[1] || value[0]);
  return String(value);
};

export type EntryProps = {
  record: string;
  field: FieldRow;
  is_wanted: boolean;
  onBegin: () => void;
  onSaved: () => void;
};

function useTyped({ record, field, onBegin, onSaved }: EntryProps) {
  const kind = kindOf(record);
  const cell = recordSignal(record).value?.[field.name];
  const value = shown(cell);
  const key = cellKey(record, field.name);
  const kept = drafts.get(key);
  const [draft, setDraft] = useState<string | null>(kept?.text ?? null);
  const [read, setRead] = useState<Read | null>(null);
  const painted = useRef<string[] | null>(kept?.painted ?? null);
  const stored = textOfValue(field, value);

  const begin = () => {
    painted.current ??= paintedIds(cell);
    onBegin();
  };
  const type = (text: string) => {
    begin();
    setDraft(text);
    drafts.set(key, { text, painted: painted.current ?? [] });
  };
  const finish = () => {
    drafts.delete(key);
    painted.current = null;
    setDraft(null);
    setRead(null);
    if (trying.value?.record === record) trying.value = null;
  };
  const commit = async () => {
    const kept_draft = drafts.get(key);
    if (!kept_draft) return;
    if (kept_draft.text === stored) return finish();
    const now_read = await readTyped(kind, field, kept_draft.text);
    setRead(now_read);
    if (now_read.refused || drafts.get(key) !== kept_draft) return;
    const act = {
      kind,
      record: idOf(record),
      set: { [field.name]: now_read.value },
      painted: { [field.name]: kept_draft.painted },
    };
    const answer = await save([act], field.label);
    if (!answer.saved) return;
    if (drafts.get(key) === kept_draft) finish();
    onSaved();
  };
  const newest = useRef(commit);
  newest.current = commit;
  useEffect(() => {
    if (draft === null) return;
    const look = async () => {
      const now_read = await readTyped(kind, field, draft);
      setRead(now_read);
      trying.value = now_read.refused ? null : { record, set: { [field.name]: now_read.value } };
    };
    const timer = setTimeout(() => void look(), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [draft, kind, field]);
  useEffect(() => {
    const leave = () => void newest.current();
    const hidden = () => document.visibilityState === "hidden" && leave();
    document.addEventListener("visibilitychange", hidden);
    return () => {
      document.removeEventListener("visibilitychange", hidden);
      leave();
    };
  }, []);
  const was_changed = draft !== null && painted.current?.join() !== paintedIds(cell).join();
  return { value, stored, draft, read, type, begin, finish, commit, was_changed };
}

export function TypedEntry(props: EntryProps) {
  const { record, field, is_wanted } = props;
  const id = useId();
  const { value, stored, draft, read, type, begin, finish, commit, was_changed } = useTyped(props);
  const words_of_value = useShown(kindOf(record), field.name, value);
  const over = overlayOf(cellKey(record, field.name));
  const input = useRef<HTMLInputElement & HTMLTextAreaElement>(null);
  useEffect(() => {
    if (!is_wanted) return;
    input.current?.scrollIntoView({ block: "center" });
    input.current?.focus();
  }, [is_wanted]);
  const refused = read?.refused ?? "";
  const given = {
    ref: input,
    id: `${id}i`,
    value: draft ?? stored,
    "aria-describedby": `${id}d`,
    "aria-invalid": refused ? (true as const) : undefined,
    autocomplete: "off",
    dir: "auto" as const,
    onFocus: begin,
    onInput: (event: Event) => type((event.currentTarget as HTMLInputElement).value),
    onBlur: () => void commit(),
    onKeyDownCapture: (event: KeyboardEvent) => {
      if (event.key !== "Escape" || draft === null) return;
      event.preventDefault(); // what was typed is dropped, and the cursor stays
      finish();
    },
  };
  const is_figure = field.type === "quantity" || field.type === "count";
  const plain = (text: string) => text.replace(/[\s\u00a0]/g, "");
  const is_same = plain(words_of_value) === plain(stored);
  const told =
    draft !== null
      ? (read?.shown ?? "")
      : field.type === "quantity" && value && !is_same
        ? words_of_value
        : "";
  return (
    <div class={draft === null ? "entry" : "entry open"}>
      <label class="name" for={`${id}i`}>
        {field.label}
        <FieldUnit field={field} />
      </label>
      {field.type === "long_text" ? (
        <textarea {...given} />
      ) : (
        <input
          {...given}
          type="text"
          class={is_figure ? "figure" : undefined}
          inputMode={field.type === "count" ? "numeric" : undefined}
          enterkeyhint="done"
          placeholder={field.type === "time" ? "07:12" : undefined}
          onKeyDown={(event) => event.key === "Enter" && (isWide() ? void commit() : input.current?.blur())}
        />
      )}
      <span
        class={refused ? "told refused" : "told"}
        id={`${id}d`}
        aria-live={refused ? "polite" : undefined}
      >
        {refused || (
          <>
            {draft !== null && <b>{words.save.typing}. </b>}
            <Said>{told}</Said>
          </>
        )}
        {was_changed && ` ${words.save.changed_meanwhile}`}
      </span>
      <NotSaved sentence={over?.state === "failed" ? over.sentence : ""} />
    </div>
  );
}
