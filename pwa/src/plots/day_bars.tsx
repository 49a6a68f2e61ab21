// The day on one time axis: a line a shot with what was planned, the range in which it will be ready, own words; now, meal, wrap.
import { words } from "../words";

const w = words.board;
const HOUR_MS = 3_600_000;
const LEFT = 46;
const RIGHT = 12;
const TOP = 40;
const OVER = 28;
const HIGHER = 12;
const LINE = 38;
const HALF = 10;

export type DayBar = {
  key: string;
  number: string;
  planned_ms: number | null;
  range: { low_ms: number; likely_ms: number; high_ms: number } | null;
  /** When departments said that they would be ready. */
  words_ms: number[];
  /** Stands in place of a range. */
  says: string;
  /** All of it in words, for who does not see the drawing. */
  told: string;
};

export type DayLine = {
  bars: DayBar[];
  now_ms: number;
  meal: number[] | null;
  wrap_ms: number | null;
  width: number;
  clock: (ms: number) => string;
};

/** From half an hour ago, or what was planned lately, to the last thing on the line, in whole hours. */
function ends({ bars, now_ms, wrap_ms }: DayLine): [number, number] {
  const open = bars.filter(({ says }) => says !== w.done);
  const marks = open.flatMap(({ planned_ms, range }) => [planned_ms ?? now_ms, range?.high_ms ?? now_ms]);
  const from = Math.max(Math.min(now_ms - HOUR_MS / 2, ...marks), now_ms - 3 * HOUR_MS);
  const to = Math.max(now_ms + HOUR_MS, wrap_ms ?? 0, ...marks);
  const half = HOUR_MS / 2;
  return [Math.floor(from / half) * half, Math.ceil((to + HOUR_MS / 6) / half) * half];
}

export function DayBars(line: DayLine) {
  const { bars, now_ms, meal, wrap_ms, width, clock } = line;
  const [from, to] = ends(line);
  const x = (ms: number) =>
    LEFT + ((Math.min(Math.max(ms, from), to) - from) / (to - from)) * (width - LEFT - RIGHT);
  const axis = TOP + bars.length * LINE + 6;
  const is_within = (ms: number | null): ms is number => ms !== null && ms >= from && ms <= to;
  const hours = Array.from({ length: Math.floor((to - from) / HOUR_MS) + 1 }, (_, step) => step)
    .map((step) => Math.ceil(from / HOUR_MS) * HOUR_MS + step * HOUR_MS)
    .filter((ms) => ms <= to);
  // Words over the lines: now keeps its place, what is close to it goes a line up.
  const inside = (at: number, half = 34) => Math.min(at, width - half);
  const isCrowded = (at: number) => Math.abs(at - x(now_ms)) < 62;
  const meal_x = (x(meal?.[0] ?? from) + x(meal?.[1] ?? from)) / 2;
  return (
    <section class="pic day-bars" aria-label={w.bars}>
      <svg
        class="plot"
        viewBox={`0 0 ${width} ${axis + 24}`}
        role="img"
        aria-label={`${w.bars}: ${bars.map(({ told }) => told).join(". ")}`}
      >
        {meal?.[0] !== undefined && meal[1] !== undefined && meal[1] > from && (
          <>
            <rect
              x={x(meal[0])}
              y={TOP - 8}
              width={x(meal[1]) - x(meal[0])}
              height={axis - TOP + 8}
              class="fan"
            />
            <text x={meal_x} y={isCrowded(meal_x) ? HIGHER : OVER} text-anchor="middle" class="lt2">
              {w.meal}
            </text>
          </>
        )}
        {hours.map((ms) => (
          <g key={ms}>
            <line x1={x(ms)} x2={x(ms)} y1={axis} y2={axis + 6} class="cup" />
            <text x={inside(x(ms), 18)} y={axis + 20} text-anchor="middle" class="ax">
              {clock(ms)}
            </text>
          </g>
        ))}
        <line x1={LEFT} x2={width - RIGHT} y1={axis} y2={axis} class="cup" />
        {is_within(wrap_ms) && (
          <>
            <line x1={x(wrap_ms)} x2={x(wrap_ms)} y1={TOP - 8} y2={axis} class="tgt" />
            <text
              x={inside(x(wrap_ms))}
              y={isCrowded(x(wrap_ms)) ? HIGHER : OVER}
              text-anchor="middle"
              class="lt b"
            >
              {w.wrap} {clock(wrap_ms)}
            </text>
          </>
        )}
        {bars.map((bar, place) => (
          <Bar key={bar.key} bar={bar} y={TOP + place * LINE + LINE / 2} line={line} x={x} from={from} />
        ))}
        <line x1={x(now_ms)} x2={x(now_ms)} y1={TOP - 8} y2={axis} class="read" />
        <text x={x(now_ms)} y={OVER} text-anchor="middle" class="lt b">
          {w.now} {clock(now_ms)}
        </text>
      </svg>
    </section>
  );
}

type BarProps = { bar: DayBar; y: number; line: DayLine; x: (ms: number) => number; from: number };

function Bar({ bar, y, line, x, from }: BarProps) {
  const { planned_ms, range, words_ms } = bar;
  const { now_ms, wrap_ms, width } = line;
  const over_ms =
    range && wrap_ms !== null && range.high_ms > wrap_ms ? Math.max(wrap_ms, range.low_ms) : null;
  const low = range ? x(range.low_ms) : 0;
  const high = range ? Math.max(x(range.high_ms), low + 6) : 0;
  return (
    <g>
      <line x1={LEFT} x2={width - RIGHT} y1={y + HALF} y2={y + HALF} class="rung" />
      <text x={0} y={y + 5} class="lt b">
        {bar.number}
      </text>
      {planned_ms !== null && planned_ms >= from && (
        <path d={`M${x(planned_ms)} ${y - 4}l-6 -10h12z`} class="planned" />
      )}
      {range && (
        <>
          <rect x={low} y={y - 4} width={high - low} height={HALF + 4} class="fan-out" />
          {over_ms !== null && (
            <rect
              x={x(over_ms)}
              y={y - 4}
              width={Math.max(0, high - x(over_ms))}
              height={HALF + 4}
              class="hatched"
            />
          )}
          <path d={`M${low} ${y - 4}V${y + HALF}H${high}V${y - 4}`} class="cup" />
          <line x1={x(range.likely_ms)} x2={x(range.likely_ms)} y1={y - 4} y2={y + HALF} class="cup" />
        </>
      )}
      {words_ms.map((ms) => (
        <path key={ms} d={`M${x(ms)} ${y + HALF + 1}l-5 8h10z`} class="solid-point" />
      ))}
      {!range && (
        <text x={x(now_ms) + 9} y={y + 5} class="lt2">
          {bar.says}
        </text>
      )}
    </g>
  );
}
