// Worked-out answers as rows: the figure, how it came about, what to fill in to know it, its caution always open beside it.
import { Caution, Fold } from "../../parts/blocks";
import { Figure as Amount, figureAndUnit } from "../../parts/figures";
import { Mark } from "../../parts/mark";
import { Said, unbroken } from "../../parts/said";
import { link } from "../../routing";
import type { Caution as CautionWords, Missing } from "../../sheet_types";
import type { Figure } from "../../sheet_types_of_things";
import { words } from "../../words";

/** Where a missing fact is filled in; "" when the rules name no record for it. */
export function missingLink(one: Missing, shot: string): string {
  if (!one.record) return "";
  const [kind = "", id = ""] = one.record.split("/");
  return link("record", [kind, id], { field: one.field, shot });
}

export const MissingRow = ({ one, shot }: { one: Missing; shot: string }) => {
  const href = missingLink(one, shot);
  const inside = (
    <span>
      <span class="t">
        <Said>{one.sentence}</Said>
      </span>
      {href && <span class="n">{words.sheet.fill_in}</span>}
    </span>
  );
  return href ? (
    <a class="row plain" href={href}>
      {inside}
    </a>
  ) : (
    <div class="row plain">{inside}</div>
  );
};

/** What more there is to fill in: one row, or a fold when there are several. */
export function MissingRows({ missing, shot }: { missing: Missing[]; shot: string }) {
  const rows = missing.map((one) => (
    <MissingRow key={`${one.record} ${one.field} ${one.sentence}`} one={one} shot={shot} />
  ));
  if (rows.length < 2) return rows;
  return (
    <Fold title={words.sheet.to_know_more} count={rows.length}>
      {rows}
    </Fold>
  );
}

/** A figure with its label: at the right end where it is one figure, under its label where it is more. */
export function ValueRow(props: {
  label: string;
  more?: string;
  shown: string;
  caution?: CautionWords | null | undefined;
}) {
  const { label, more, shown, caution = null } = props;
  const [amount, unit] = figureAndUnit(shown);
  return (
    <div class="row plain">
      <span>
        <span class="t">
          <Said>{label}</Said>
        </span>
        {!amount && (
          <span class="say">
            <Said>{unbroken(shown)}</Said>
          </span>
        )}
        <span class="n">
          <Said>{unbroken(more ?? "")}</Said>
        </span>
      </span>
      <Amount amount={amount} unit={unit} />
      <Caution caution={caution} />
    </div>
  );
}

function Inside({ figure, is_link }: { figure: Figure; is_link: boolean }) {
  const [amount, unit] = figureAndUnit(figure.shown);
  return (
    <>
      <span>
        <span class="t">{figure.label}</span>
        {!amount && figure.shown !== figure.word && (
          <span class="say">
            <Said>{unbroken(figure.shown)}</Said>
          </span>
        )}
        <span class="n">
          {figure.state === "unknown" && <Mark name="unk" is_small />}
          {figure.word && <b class={figure.state === "over" ? "act" : undefined}>{figure.word}. </b>}
          <Said>{unbroken(figure.line)}</Said>
          {is_link && <span class="do"> {words.sheet.fill_in}</span>}
        </span>
      </span>
      {amount && <Amount amount={amount} unit={unit} />}
    </>
  );
}

type FigureRowProps = { figure: Figure; shot: string; caution: CautionWords | null; asked: Missing[] };

const askedKey = (one: Missing): string => `${one.record} ${one.field}`;

/** One answer. What is missing is one tap away: the row leads to the first of it, or else to what the figure is. `asked` stands above already. */
function FigureRow({ figure, shot, caution, asked }: FigureRowProps) {
  const [first, ...others] = figure.missing;
  const href = first ? missingLink(first, shot) : "";
  const looks = `row plain${figure.state === "over" ? " need" : ""}`;
  const above = new Set(asked.map(askedKey));
  return (
    <>
      {href ? (
        <a class={looks} href={href}>
          <Inside figure={figure} is_link />
          <Caution caution={caution} />
        </a>
      ) : (
        <a class={looks} href={link("meaning", [figure.label])}>
          <Inside figure={figure} is_link={false} />
          <Caution caution={caution} />
        </a>
      )}
      <MissingRows missing={others.filter((one) => !above.has(askedKey(one)))} shot={shot} />
    </>
  );
}

/**
 * Answers one under another. Where the same caution stands beside several in a row it is said once, at the first; `said` is
 * what already stands open just above.
 */
export function FigureRows(props: { figures: Figure[]; shot: string; said?: string[] }) {
  return props.figures.map((figure, place) => {
    const before = props.figures[place - 1]?.caution?.sentence;
    const own = figure.caution?.sentence ?? "";
    const caution = own === before || props.said?.includes(own) ? null : figure.caution;
    const asked = props.figures.slice(0, place).flatMap(({ missing }) => missing);
    const key = `${figure.label} ${place}`;
    return <FigureRow key={key} figure={figure} shot={props.shot} caution={caution} asked={asked} />;
  });
}

/** The cautions of rows, each once. */
export const cautionsOf = (rows: { caution?: CautionWords | null }[]): string[] => [
  ...new Set(rows.flatMap(({ caution }) => caution?.sentence ?? [])),
];

/** A caution of a whole thing, unless one of its figures says it already. */
export const CautionOf = (props: {
  caution: CautionWords | null;
  said: { caution: CautionWords | null }[];
}) =>
  props.caution && !cautionsOf(props.said).includes(props.caution.sentence) ? (
    <p class="para">
      <Caution caution={props.caution} />
    </p>
  ) : null;
