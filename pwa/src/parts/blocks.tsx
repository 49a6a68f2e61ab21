// Cautions, holds, headings, folds, empty states and progress: blocks that several screens lay out alike.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Caution as CautionWords } from "../sheet_types";
import { words } from "../words";
import { Mark } from "./mark";
import { Said, Strip } from "./said";

/** The head of a screen: what it is about, as a strip, and two short lines at the right. */
export function Head(props: {
  number?: string | undefined;
  name?: string | undefined;
  lines?: (string | undefined)[];
  cut?: number;
}) {
  const lines = props.lines?.filter(Boolean) ?? [];
  return (
    <header class="head">
      <h1>
        <Strip {...props} />
      </h1>
      {lines.length > 0 && (
        <p class="sub">
          {lines.map((line) => (
            <span key={line}>
              <Said>{line}</Said>
            </span>
          ))}
        </p>
      )}
    </header>
  );
}

/** Always open, never behind a tap. */
export const Caution = ({ caution, id }: { caution: CautionWords | null; id?: string }) =>
  caution ? (
    <span class="caution" id={id}>
      <b>CAUTION</b> {caution.sentence}
    </span>
  ) : null;

/** Where the same caution stands beside several in a row it is said once, at the first. */
export const saidOnce = <T extends { caution?: CautionWords | null }>(all: T[]): T[] =>
  all.map((one, place) =>
    one.caution && one.caution.sentence === all[place - 1]?.caution?.sentence
      ? { ...one, caution: null }
      : one,
  );

export const HoldBlock = (props: { word?: string; about?: string; children: ComponentChildren }) => (
  <span class="hold">
    <span>
      <span class="lab">
        {props.word ?? words.hold.word} {props.about && <Said>{props.about}</Said>}
      </span>{" "}
      {props.children}
    </span>
  </span>
);

/** One line that opens. What is inside keeps its place when closed again. */
export function Fold(props: {
  title: string;
  count?: number | string;
  is_open?: boolean;
  children: ComponentChildren;
}) {
  const [is_open, setOpen] = useState(props.is_open ?? false);
  return (
    <>
      <button type="button" class="fold" aria-expanded={is_open} onClick={() => setOpen(!is_open)}>
        <Mark name="open" />
        <span>{props.title}</span>
        <span>{props.count}</span>
      </button>
      {is_open && props.children}
    </>
  );
}

export const Empty = (props: { sentence: string; next?: string; children?: ComponentChildren }) => (
  <div class="empty">
    <p>{props.sentence}</p>
    {props.next && <p class="sub">{props.next}</p>}
    {props.children && <div class="btns">{props.children}</div>}
  </div>
);

/** Said as soon as something takes longer than a second. */
export const Progress = ({ sentence, is_slow }: { sentence: string; is_slow: boolean }) =>
  is_slow ? (
    <p class="progress" role="status">
      {sentence} …
    </p>
  ) : null;

/** Why something was refused, said at once: what to do stands in the sentence. */
export const Refusal = ({ sentence }: { sentence: string }) =>
  sentence ? (
    <span class="told refused" role="alert">
      {sentence}
    </span>
  ) : null;

export const NotSaved = ({ sentence }: { sentence: string }) =>
  sentence ? (
    <span class="not-saved" role="alert">
      {sentence.startsWith("NOT saved") ? (
        <b>{sentence}</b>
      ) : (
        <>
          <b>{words.save.not_saved}</b> {sentence}
        </>
      )}
    </span>
  ) : null;
