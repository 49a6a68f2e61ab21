// The state of a thing as a form. Beside every mark stands a word: the mark itself is never read out.
export type MarkName =
  | "todo"
  | "done"
  | "sent"
  | "again"
  | "unk"
  | "hold"
  | "two"
  | "gone"
  | "req"
  | "chg"
  | "open";

export const Mark = ({ name, is_small }: { name: MarkName; is_small?: boolean }) => (
  <svg class={is_small ? "mk s" : "mk"} viewBox="0 0 24 24" aria-hidden="true">
    <use href={`#m-${name}`} />
  </svg>
);

const fill = { fill: "none" };

/** The forms themselves, once a page. */
export const MarkForms = () => (
  <svg width="0" height="0" class="forms" aria-hidden="true">
    <defs>
      <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect class="hatch-b" width="6" height="6" />
        <rect class="hatch-a" width="3" height="6" />
      </pattern>
      <symbol id="m-todo" viewBox="0 0 24 24">
        <rect x="2" y="2" width="20" height="20" {...fill} class="edge" stroke-width="2.5" />
      </symbol>
      <symbol id="m-done" viewBox="0 0 24 24">
        <rect x="1" y="1" width="22" height="22" class="filled" />
        <path d="M5 12.5l5 5L19 7" {...fill} class="cut" stroke-width="3.2" />
      </symbol>
      <symbol id="m-sent" viewBox="0 0 24 24">
        <path d="M1 1H14L23 10V23H1z" class="filled" />
        <path d="M17 1h6v6" {...fill} class="filled-line" stroke-width="2.5" />
        <path d="M5 14l4.5 4.5L17 11" {...fill} class="cut" stroke-width="3.2" />
      </symbol>
      <symbol id="m-again" viewBox="0 0 24 24">
        <path d="M1 23V13l4 -3 4 4 4 -4 4 4 3 -3 3 2V23z" class="needs" />
        <path d="M1 9V1H23V8" {...fill} class="needs-line" stroke-width="2.5" />
      </symbol>
      <symbol id="m-unk" viewBox="0 0 24 24">
        <rect
          x="2"
          y="2"
          width="20"
          height="20"
          {...fill}
          class="edge"
          stroke-width="2.5"
          stroke-dasharray="4 3.27"
        />
        <path
          d="M8.5 9.2C8.5 5.5 15.5 5.5 15.5 9.2C15.5 12 12 11.6 12 14.6"
          {...fill}
          class="ink"
          stroke-width="2.4"
        />
        <rect x="10.7" y="16.4" width="2.6" height="2.8" class="inked" />
      </symbol>
      <symbol id="m-hold" viewBox="0 0 24 24">
        <rect x="1" y="1" width="22" height="22" class="hatched" stroke-width="2" />
      </symbol>
      <symbol id="m-two" viewBox="0 0 24 24">
        <rect x="1.2" y="2" width="9" height="20" {...fill} class="needs-line" stroke-width="2.4" />
        <rect x="13.8" y="2" width="9" height="20" class="needs needs-line" stroke-width="2.4" />
      </symbol>
      <symbol id="m-gone" viewBox="0 0 24 24">
        <rect x="2" y="2" width="20" height="20" {...fill} class="edge" stroke-width="1.6" />
        <path d="M2 12H22" {...fill} class="edge" stroke-width="2.4" />
      </symbol>
      <symbol id="m-req" viewBox="0 0 24 24">
        <path d="M1 4H16L23 12L16 20H1z" {...fill} class="needs-line" stroke-width="2.5" />
      </symbol>
      <symbol id="m-chg" viewBox="0 0 24 24">
        <path d="M2 3H12V12H22V21M17 16l5 5l5 -5" {...fill} class="needs-line" stroke-width="2.6" />
      </symbol>
      <symbol id="m-open" viewBox="0 0 24 24">
        <path d="M3 8l9 9l9 -9" {...fill} class="edge" stroke-width="3.4" />
      </symbol>
    </defs>
  </svg>
);

const MARK_OF: { [state: string]: MarkName } = {
  done: "done",
  again: "again",
  two: "two",
  none: "unk",
  hold: "hold",
  off: "gone",
};
/** The mark of a row's or a department's state. */
export const markOf = (state: string, is_unsent = false): MarkName =>
  state === "done" && is_unsent ? "sent" : (MARK_OF[state] ?? "todo");
