// The one thing that asks for an answer, under the thumb, above the three facts.
// D1 it never appears or changes within 600 ms of a touch. D2 it takes no tap in its first 400 ms.
import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
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

export function Dock({ ask }: { ask: DockAsk | null }) {
  const wanted = ask?.key ?? "";
  const calm = useQuiet(wanted, false, "");
  const key = wanted ? calm : "";
  const last = useRef<DockAsk | null>(null);
  if (ask && ask.key === key) last.current = ask;
  const showing = key && last.current?.key === key ? last.current : null;
  const block = useRef<HTMLElement>(null);
  const [shield, setShield] = useState({ since: 0, height: 0 });
  useLayoutEffect(() => {
    const height = block.current?.offsetHeight ?? 0;
    setShield({ since: performance.now(), height });
    // What lay under a dock that just left takes no tap either: the second half of a double tap ends here.
    return () => setShield({ since: performance.now(), height });
  }, [key]);
  useEffect(() => {
    if (key || !shield.height) return;
    const timer = setTimeout(() => setShield({ since: 0, height: 0 }), DEAF_MS);
    return () => clearTimeout(timer);
  }, [key, shield]);
  if (!showing) return shield.height ? <div class="shield" style={{ height: `${shield.height}px` }} /> : null;
  const answer = (one: DockAnswer) => () => {
    if (performance.now() - shield.since >= DEAF_MS) one.act();
  };
  const is_one = !showing.what && !showing.from;
  const looks = `dock${is_one ? " one" : ""}${showing.is_quiet ? " quiet" : ""}`;
  return (
    <section ref={block} class={looks} aria-label={showing.what ?? showing.from ?? words.dock.name}>
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
            <Said>{one.word}</Said>
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
