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

/** "3.8 to 4.2 under": the figures large, the words after them small. */
function split(shown: string): [string, string] {
  const found = /^([-−+]?[\d.,½ ]+(?: to [-−+]?[\d.,½]+)?)(.*)$/.exec(shown);
  return found ? [found[1]?.trim() ?? "", found[2]?.trim() ?? ""] : ["", shown];
}

export function LevelFigure({ shown, kind }: { shown: string; kind: "reading" | "range" | "unknown" }) {
  const [figure, unit] = split(shown);
  return (
    <span class={kind === "range" ? "v range" : "v"}>
      {figure} <small>{unit}</small>
    </span>
  );
}

/** Stands before the line of a reading. */
export const Pointer = () => (
  <svg class="rd" viewBox="0 0 12 12" aria-hidden="true">
    <path d="M12 0V12L1 6z" />
  </svg>
);

/** A fact: label, small line, figure. */
export const FactLine = (props: { label: string; more?: string; shown: string }) => {
  const [figure, unit] = split(props.shown);
  return (
    <>
      <span class="t">
        {props.label}
        {props.more && <span class="n">{props.more}</span>}
      </span>
      {figure ? (
        <Figure amount={figure} unit={unit} />
      ) : (
        <span class="word">
          <Said>{props.shown}</Said>
        </span>
      )}
    </>
  );
};
