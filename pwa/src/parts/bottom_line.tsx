// The three facts and the five words: at the bottom of every screen.
import { useRef } from "preact/hooks";
import { words } from "../words";

const LONG_PRESS_MS = 2000;

export type FactsLineProps = {
  unsent: number | null;
  heard: string;
  /** Its age, once it is older than a quarter of an hour. */
  heard_age: string;
  kept: "kept" | "stored" | "memory" | null;
  href: string;
  /** Two seconds on the facts: the next light of the screen. */
  onLongPress: () => void;
};

export function FactsLine(props: FactsLineProps) {
  const timer = useRef(0);
  const was_long = useRef(false);
  const press = () => {
    was_long.current = false;
    timer.current = window.setTimeout(() => {
      was_long.current = true;
      props.onLongPress();
    }, LONG_PRESS_MS);
  };
  const release = () => clearTimeout(timer.current);
  const w = words.facts;
  return (
    <a
      class="facts"
      href={props.href}
      draggable={false}
      onPointerDown={press}
      onPointerUp={release}
      onPointerLeave={release}
      onPointerCancel={release}
      onContextMenu={(event) => was_long.current && event.preventDefault()}
      onClick={(event) => was_long.current && event.preventDefault()}
    >
      <span>
        <b>{props.unsent ?? "–"}</b> {w.unsent}
      </span>
      <span class={props.heard_age ? "old" : undefined}>
        {w.heard} <b>{props.heard || w.never}</b> {props.heard_age}
      </span>
      {props.kept === "memory" ? (
        <span class="no">
          <b>{w.not_kept}</b>
        </span>
      ) : (
        <span>
          <b>{props.kept === null ? "–" : w[props.kept]}</b> {props.kept === null ? w.starting : w.here}
        </span>
      )}
    </a>
  );
}

export type Word = { key: string; word: string; href: string };

export const FiveWords = ({ items, current }: { items: Word[]; current: string }) => (
  <nav class="nav" aria-label={words.nav.name}>
    {items.map(({ key, word, href }) => (
      <a
        key={key}
        href={href}
        class={key === "raise" || key === "emergency" ? key : undefined}
        aria-current={key === current ? "page" : undefined}
      >
        <span>{word}</span>
      </a>
    ))}
  </nav>
);
