// Colour on one horizontal axis in mired, warm at the right: each source a pointer with its figure. Tint as a second short
// strip, green and magenta written out. What has no known tint stands under it in words. No fill: a colour is read, not seen.
import type { ColourOfShot, SourceColour } from "../sheet_types_of_light";
import { words } from "../words";

const w = words.sheet.colour;
const WIDTH = 358;
const PAD = 20;
const LINE = 19;
const STEP_MIRED = 50;
const TINT_WIDTH = 200;
const TINT_LEFT = (WIDTH - TINT_WIDTH) / 2;
const TINT_LEAST = 0.006;

type Pointer = {
  key: string;
  title: string;
  low: number;
  high: number;
  figure: string;
  is_reference: boolean;
};

function pointersOf(colour: ColourOfShot): Pointer[] {
  const found: Pointer[] = colour.sources.flatMap(({ level, title, mired, mired_shown: figure }) =>
    mired ? [{ key: level, title, low: mired.low, high: mired.high, figure, is_reference: false }] : [],
  );
  const { mired, mired_shown: figure } = colour.reference;
  if (mired !== null) {
    found.push({ key: "", title: w.reference, low: mired, high: mired, figure, is_reference: true });
  }
  return found.sort((a, b) => a.low + a.high - b.low - b.high);
}

export function colourWords(colour: ColourOfShot): string {
  const said = colour.sources.map(
    ({ title, shown, duv }) => `${title} ${shown}${duv === null ? `, ${w.tint_unknown}` : ""}`,
  );
  return `${w.strip}: ${[`${w.reference} ${colour.reference.shown}`, ...said].join("; ")}`;
}

function Tints({ sources, top }: { sources: SourceColour[]; top: number }) {
  const known = sources.filter((one) => one.duv !== null);
  const unknown = sources.filter((one) => one.duv === null && one.mired);
  const most = Math.max(TINT_LEAST, ...known.map(({ duv }) => Math.abs(duv ?? 0)));
  const x = (duv: number) => TINT_LEFT + TINT_WIDTH / 2 + (duv / most) * (TINT_WIDTH / 2 - 8);
  return (
    <g>
      <line x1={TINT_LEFT} x2={TINT_LEFT + TINT_WIDTH} y1={top} y2={top} class="read" />
      <line x1={x(0)} x2={x(0)} y1={top - 7} y2={top + 7} class="cup" />
      <text x={TINT_LEFT - 8} y={top + 5} text-anchor="end" class="lt b">
        {w.magenta}
      </text>
      <text x={TINT_LEFT + TINT_WIDTH + 8} y={top + 5} class="lt b">
        {w.green}
      </text>
      {known.map(({ level, title, duv, tint }, place) => {
        const at = x(duv ?? 0);
        const y = top + 26 + place * LINE;
        return (
          <g key={level}>
            <path d={`M${at} ${top + 3}l5 9h-10z`} class="solid-point" />
            <line x1={at} x2={at} y1={top + 12} y2={y - 10} class="rung" />
            <text x={at} y={y + 3} text-anchor="middle" class="lt">
              {title} <tspan class="b">{tint}</tspan>
            </text>
          </g>
        );
      })}
      {unknown.map(({ level, title }, place) => (
        <text
          key={level}
          x={WIDTH / 2}
          y={top + 29 + (known.length + place) * LINE}
          text-anchor="middle"
          class="lt2"
        >
          {title}: {w.tint_unknown}
        </text>
      ))}
    </g>
  );
}

export function ColourStrip({ colour }: { colour: ColourOfShot }) {
  const pointers = pointersOf(colour);
  const ends = pointers.flatMap(({ low, high }) => [low, high]);
  const from = Math.floor((Math.min(...ends) - 15) / STEP_MIRED) * STEP_MIRED;
  const to = Math.ceil((Math.max(...ends) + 15) / STEP_MIRED) * STEP_MIRED;
  const x = (mired: number) => PAD + ((mired - from) / (to - from)) * (WIDTH - 2 * PAD);
  const axis = 30 + pointers.length * LINE;
  const ticks = Array.from({ length: Math.round((to - from) / 100) + 1 }, (_, step) => from + step * 100);
  const tinted = colour.sources.filter((one) => one.duv !== null || one.mired).length;
  const tint_top = axis + 74;
  const height = tint_top + 34 + tinted * LINE;
  if (!pointers.length) return null;
  return (
    <section class="pic" aria-label={w.strip}>
      <svg class="plot" viewBox={`0 0 ${WIDTH} ${height}`} role="img" aria-label={colourWords(colour)}>
        <line x1={PAD} x2={WIDTH - PAD} y1={axis} y2={axis} class="read" />
        {ticks.map((mired) => (
          <g key={mired}>
            <line x1={x(mired)} x2={x(mired)} y1={axis} y2={axis + 7} class="cup" />
            <text x={x(mired)} y={axis + 22} text-anchor="middle" class="ax">
              {mired}
            </text>
          </g>
        ))}
        <text x={PAD} y={axis + 40} class="lt b">
          {w.cool}
        </text>
        <text x={WIDTH / 2} y={axis + 40} text-anchor="middle" class="ax">
          {w.mired}
        </text>
        <text x={WIDTH - PAD} y={axis + 40} text-anchor="end" class="lt b">
          {w.warm}
        </text>
        {pointers.map(({ key, title, low, high, figure, is_reference }, place) => {
          const at = (x(low) + x(high)) / 2;
          const y = 18 + place * LINE;
          const side = at > WIDTH / 2 ? "end" : "start";
          return (
            <g key={key}>
              <line x1={at} x2={at} y1={y + 3} y2={axis - 10} class={is_reference ? "tgt" : "rung"} />
              {high > low && (
                <rect x={x(low)} y={axis - 8} width={Math.max(2, x(high) - x(low))} height="8" class="fan" />
              )}
              <path d={`M${at} ${axis - 2}l-5 -9h10z`} class="solid-point" />
              <text
                x={at + (side === "end" ? -5 : 5)}
                y={y}
                text-anchor={side}
                class={is_reference ? "lt b" : "lt"}
              >
                {title} <tspan class="b">{figure}</tspan>
              </text>
            </g>
          );
        })}
        <text x={WIDTH / 2} y={tint_top - 14} text-anchor="middle" class="ax">
          {w.tint_strip}
        </text>
        <Tints sources={colour.sources} top={tint_top} />
      </svg>
    </section>
  );
}
