// Colour: each source on one strip in mired with its tint, then the same figures in rows with what brings them together.
import { Empty } from "../../parts/blocks";
import { Figure as Amount } from "../../parts/figures";
import { Said, unbroken } from "../../parts/said";
import { ColourStrip } from "../../plots/colour_strip";
import { link, recordLink } from "../../routing";
import type { Sheet } from "../../sheet_types";
import type { ColourOf, SourceColour } from "../../sheet_types_of_light";
import { words } from "../../words";
import { MissingRows } from "./figure_rows";

const w = words.sheet.colour;

const Told = ({ one }: { one: ColourOf }) => (
  <>
    <span class="say">
      <Said>{unbroken(one.shown)}</Said>
    </span>
    {one.match && (
      <span class="n">
        <b>{unbroken(one.match.shown)}</b>
        {one.match.is_visible && <Said>. {unbroken(one.match.change)}</Said>}
      </span>
    )}
    <span class="n">
      <Said>{unbroken(one.line)}</Said>
    </span>
  </>
);

function SourceRow({ one, shot }: { one: SourceColour; shot: string }) {
  return (
    <>
      <a class="row plain" href={recordLink(one.source, { shot })}>
        <span>
          <span class="t">
            <Said>{one.title}</Said>
          </span>
          <Told one={one} />
          {one.layers.map((layer) => (
            <span key={layer.title} class="n">
              <Said>{unbroken(words.join_words([layer.title, layer.shown]))}</Said>
            </span>
          ))}
          {one.duv === null && one.kind !== "unknown" && !one.match && (
            <span class="n">{w.tint_unknown}</span>
          )}
        </span>
        <Amount amount={one.mired_shown} unit={w.mired} />
      </a>
      <MissingRows missing={one.missing} shot={shot} />
    </>
  );
}

export function ColourTab({ sheet, shot }: { sheet: Sheet; shot: string }) {
  const colour = sheet.light.colour;
  if (!colour) return <Empty sentence={words.sheet.not_worked_out} />;
  const { reference, sources, points, threshold } = colour;
  return (
    <>
      <a class="lv" href={link("record", ["shot", shot], { field: "reference_colour_k", shot })}>
        <span class="lab">{w.reference}</span>
        <span>
          <span class="v">
            <small class="big">{unbroken(reference.shown)}</small>
          </span>
        </span>
        <span class="n">
          <Said>{threshold}</Said>
        </span>
      </a>
      <MissingRows missing={reference.missing} shot={shot} />
      {sources.length > 0 && <ColourStrip colour={colour} />}
      {points.length > 0 && <h2>{w.points}</h2>}
      {points.map((one) => (
        <div key={one.point} class="row plain">
          <span>
            <span class="t">
              <Said>{one.title}</Said>
            </span>
            <Told one={one} />
          </span>
        </div>
      ))}
      {sources.length > 0 && <h2>{w.sources}</h2>}
      {sources.map((one) => (
        <SourceRow key={one.level} one={one} shot={shot} />
      ))}
      {sources.length === 0 && <Empty sentence={w.none} next={w.none_do} />}
    </>
  );
}
