// Figures: a quantity at the right of a row, a level as a reading (plain, with a pointer) or a range (in a bracket).
import { Said, unbroken } from "./said";

export const Figure = ({ amount, unit }: { amount: string; unit?: string }) =>
  amount ? (
    <span class="fig">
      <Said>{unbroken(amount)}</Said>
      {unit && (
        <u>
          <Said>{unit}</Said>
        </u>
      )}
    </span>
  ) : null;

const FIGURE = /[-−+±]?\d[\d.,½]*(?:\u00a0\d{3})*(?: to [-−+]?\d[\d.,½]*)?(?:°|\u00a0?%)?/;

/** "3.8 to 4.2 under" -> the first figure or range, and what stands behind it. */
function split(shown: string): [figure: string, after: string] {
  const found = FIGURE.exec(shown);
  return found?.index === 0 ? [found[0], shown.slice(found[0].length).trim()] : ["", shown];
}

const LONGEST_UNIT = 16;

/** "25.6 m" -> figure and unit, for the right end of a row; ["", ""] where it is a sentence or more than one figure. */
export function figureAndUnit(shown: string): [figure: string, unit: string] {
  const [figure, after] = split(shown);
  const is_short = figure !== "" && after.length <= LONGEST_UNIT && !/\d/.test(after.replace(": 1", ""));
  return is_short ? [figure, after] : ["", ""];
}

/** Figures large, the words between them small: "0.4 under to 0.3 over". What follows a colon belongs to the ratio. */
function Figures({ shown }: { shown: string }) {
  const [figure, after] = split(shown);
  if (!figure) return <small>{shown}</small>;
  const next = after.startsWith(":") ? -1 : after.search(/\d/);
  if (next < 0) {
    return (
      <>
        {figure} <small>{after}</small>
      </>
    );
  }
  return (
    <>
      {figure} <small>{after.slice(0, next).trim()}</small> <Figures shown={after.slice(next)} />
    </>
  );
}

export const LevelFigure = ({ shown, kind }: { shown: string; kind: "reading" | "range" | "unknown" }) => (
  <span class={kind === "range" ? "v range" : "v"}>
    <Figures shown={shown} />
  </span>
);

/** Stands before the line of a reading. */
export const Pointer = () => (
  <svg class="rd" viewBox="0 0 12 12" aria-hidden="true">
    <path d="M12 0V12L1 6z" />
  </svg>
);

/** "T2.8", "C 250": a figure that begins with its sign. */
const SIGNED = /^[A-Z]\u00a0?\d/;

/** A fact: label, small line, figure. */
export const FactLine = (props: { label: string; more?: string; shown: string }) => {
  const [figure, unit] = split(props.shown);
  return (
    <>
      <span class="t">
        {props.label}
        {props.more && <span class="n">{props.more}</span>}
      </span>
      {figure || SIGNED.test(props.shown) ? (
        <Figure amount={figure || props.shown} unit={unit === props.shown ? "" : unit} />
      ) : (
        <span class="word">
          <Said>{props.shown}</Said>
        </span>
      )}
    </>
  );
};
