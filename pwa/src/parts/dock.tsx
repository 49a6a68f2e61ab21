// The one thing that asks for an answer, under the thumb, above the three facts.
// D1 it never appears or changes within 600 ms of a touch. D2 it takes no tap in its first 400 ms.
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { useQuiet } from "../touch";
import { words } from "../words";
import { Mark, type MarkName } from "./mark";
import { Said } from "./said";

const DEAF_MS = 400;

export type DockAnswer = { word: string; act: () => void; is_main?: boolean };
export type DockAsk = {
  /** Changes when something else is asked. */
  key: string;
  mark?: MarkName;
  from?: string;
  what?: string;
  answers: DockAnswer[];
  /** Where the rest of it is read, when there is no room. */
  more?: string;
  /** Nothing is asked: a way back, an undo. */
  is_quiet?: boolean;
};

export function Dock({ ask, at_once }: { ask: DockAsk | null; at_once?: boolean }) {
  const calm_key = useQuiet(ask?.key ?? "");
  const key = at_once ? (ask?.key ?? "") : calm_key;
  const last = useRef<DockAsk | null>(ask);
  if (ask && ask.key === key) last.current = ask;
  const [appeared, setAppeared] = useState({ key: "", at: 0 });
  useLayoutEffect(() => setAppeared({ key, at: performance.now() }), [key]);
  // What it asked is answered: it leaves at once. What came in since waits until the screen is left alone.
  const showing = ask === null || key === "" ? null : last.current?.key === key ? last.current : null;
  if (!showing) return null;
  const answer = (one: DockAnswer) => () => {
    if (appeared.key === showing.key && performance.now() - appeared.at < DEAF_MS) return;
    one.act();
  };
  const is_one = !showing.what && !showing.from;
  return (
    <section
      class={`dock${is_one ? " one" : ""}${showing.is_quiet ? " quiet" : ""}`}
      aria-label={showing.what ?? showing.from}
    >
      {showing.from && (
        <p class="from">
          {showing.mark && <Mark name={showing.mark} is_small />}
          <Said>{showing.from}</Said>
        </p>
      )}
      {showing.what && (
        <p class="what">
          <Said>{showing.what}</Said>
        </p>
      )}
      <div class="btns">
        {showing.answers.map((one) => (
          <button key={one.word} type="button" class={one.is_main ? "btn go" : "btn"} onClick={answer(one)}>
            {one.word}
          </button>
        ))}
        {showing.more && (
          <a class="btn more" href={showing.more}>
            {words.dock.more}
          </a>
        )}
      </div>
    </section>
  );
}

/** The foot: dock, a mode that must stay visible, the three facts, five words. Never hidden. */
export const Foot = ({ children }: { children: ComponentChildren }) => (
  <footer class="foot">{children}</footer>
);
