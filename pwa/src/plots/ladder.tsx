// The light ladder: stops vertical, more light is up, one rung a stop, the target a dashed line. After each layer a capped
// bar; the fan between shows doubt growing; a reading is a solid pointer on a thick bar. The same figures stand in rows below.
import type { Ladder as LadderOf } from "../sheet_types";
import { words } from "../words";
import { layLabels } from "./labels";

const WIDTH = 358;
const LEFT = 34;
const RUNG = 30;
const TOP = 18;
const LETTER = 7.2; // width of a letter, about

type Point = { title: string; loss: string; low: number; high: number };

function pointsOf(ladder: LadderOf): Point[] {
  return ladder.stages.flatMap(({ title, loss, level_low_stops, level_high_stops }) =>
    level_low_stops === null || level_high_stops === null
      ? []
      : [{ title, loss: loss?.shown ?? "", low: level_low_stops, high: level_high_stops }],
  );
}

const signed = (stops: number): string => {
  const size = Math.abs(stops).toFixed(1);
  return `${size === "0.0" ? "" : stops > 0 ? "+" : "−"}${size}`;
};
const rungName = (rung: number): string => (rung > 0 ? `+${rung}` : rung < 0 ? `−${-rung}` : "0");

/** In words, for whoever does not see the picture. */
export function ladderWords(ladder: LadderOf): string {
  const said = pointsOf(ladder).map(({ title, low, high }) =>
    low === high ? `${title} ${signed(low)}` : `${title} ${signed(low)} to ${signed(high)}`,
  );
  if (ladder.reading_stops !== null) said.push(`${words.shot.read} ${signed(ladder.reading_stops)}`);
  return `${words.shot.ladder(ladder.title)}: ${said.join(", ")}`;
}

export function LadderPlot({ ladder }: { ladder: LadderOf }) {
  const points = pointsOf(ladder);
  const reading = ladder.reading_stops;
  const levels = [
    0,
    ...points.flatMap(({ low, high }) => [low, high]),
    ...(reading === null ? [] : [reading]),
  ];
  const top = Math.ceil(Math.max(...levels) + 0.6);
  const bottom = Math.floor(Math.min(...levels) - 0.8);
  const height = (top - bottom) * RUNG + TOP + 16;
  const y = (stops: number) => TOP + (top - stops) * RUNG;
  // The last stage keeps room for "−1.0 read" at its right.
  const step = Math.min(96, (WIDTH - LEFT - 110) / Math.max(1, points.length - 1));
  const x = (index: number) => LEFT + 16 + index * step;
  const rungs = Array.from({ length: top - bottom + 1 }, (_, index) => top - index);
  const up = points.map(({ high }, index) => `${x(index)},${y(high)}`);
  const down = points.map(({ low }, index) => `${x(index)},${y(low)}`).reverse();
  const last = points.length - 1;
  const end = x(Math.max(0, last));
  const spoken = points.map(({ title, loss, low, high }, index) => ({
    key: title,
    text: title,
    x: x(index),
    y: index % 2 ? y(low) + 16 : y(high) - 16,
    width: LETTER * Math.max(title.length, loss.length),
    height: loss && index ? 34 : 18,
  }));
  const taken = [
    ...points.map(({ low, high }, index) => ({
      x: x(index) - 8,
      y: y(high) - 8,
      width: 16,
      height: y(low) - y(high) + 10,
    })),
    { x: WIDTH - 50, y: y(0) - 20, width: 50, height: 22 },
    ...(reading === null ? [] : [{ x: end, y: y(reading) - 10, width: 90, height: 20 }]),
  ];
  const labels = layLabels(spoken, { x: LEFT, y: 0, width: WIDTH - LEFT, height }, taken);
  return (
    <section class="pic" aria-label={words.shot.ladder(ladder.title)}>
      <svg class="plot" viewBox={`0 0 ${WIDTH} ${height}`} role="img" aria-label={ladderWords(ladder)}>
        {rungs.map((rung) => (
          <g key={rung}>
            <line x1={LEFT} x2={WIDTH} y1={y(rung)} y2={y(rung)} class={rung === 0 ? "tgt" : "rung"} />
            <text x={LEFT - 8} y={y(rung) + 5} text-anchor="end" class="ax">
              {rungName(rung)}
            </text>
          </g>
        ))}
        <polygon points={[...up, ...down].join(" ")} class="fan" />
        {points.map(({ title, loss, low, high }, index) => {
          const { left = 0, top: at = 0 } = labels[index] ?? {};
          return (
            <g key={title}>
              {low === high ? (
                <path d={`M${x(index) - 7} ${y(high) - 6}h14l-7 6z`} class="solid-point" />
              ) : (
                <path
                  d={`M${x(index) - 7} ${y(high)}h14M${x(index)} ${y(high)}V${y(low)}M${x(index) - 7} ${y(low)}h14`}
                  class="cup"
                />
              )}
              <text x={left} y={at + 14} class="lt b">
                {title}
              </text>
              {loss && index > 0 && (
                <text x={left} y={at + 30} class="lt2">
                  {loss}
                </text>
              )}
            </g>
          );
        })}
        {reading !== null && (
          <g>
            <line x1={end - 10} x2={end + 10} y1={y(reading)} y2={y(reading)} class="read" />
            <path d={`M${end + 3} ${y(reading)}l13 -7v14z`} class="solid-point" />
            <text x={end + 21} y={y(reading) + 5} class="lt b">
              {signed(reading)} {words.shot.read}
            </text>
          </g>
        )}
        <text x={WIDTH} y={y(0) - 6} text-anchor="end" class="lt b">
          {words.shot.target}
        </text>
      </svg>
    </section>
  );
}

/** The figures of the ladder as rows: the accessible version, and the one to copy onto paper. */
export const LadderRows = ({ ladder }: { ladder: LadderOf }) =>
  ladder.stages.map(({ title, loss, level_low_stops: low, level_high_stops: high }) => (
    <div key={title} class="kv">
      <span>
        {title}
        {loss && <span class="n">{loss.shown}</span>}
      </span>
      <span class="fig">
        {low === null || high === null
          ? words.shot.no_range
          : low === high
            ? signed(low)
            : `${signed(low)} to ${signed(high)}`}
      </span>
    </div>
  ));
