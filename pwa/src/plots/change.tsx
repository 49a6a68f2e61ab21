// A change of one level: dashed where it was, one arrow with its size, a capped bar where it is now. Drawn as the ladder is.
import type { Level } from "../sheet_types";
import type { LevelChange } from "../sheet_types_of_light";
import { words } from "../words";

const WIDTH = 358;
const RUNG = 30;
const TOP = 22;
const LEFT = 34;
const X = 96;

const rungName = (rung: number): string => (rung > 0 ? `+${rung}` : rung < 0 ? `−${-rung}` : "0");

export function ChangePlot({ change, level }: { change: LevelChange; level: Level | undefined }) {
  const now = level?.stops;
  const by = change.stops;
  if (now?.low === undefined || now.high === undefined || by?.low === undefined || by.high === undefined)
    return null;
  // Where it was: what it is now, less what it gained. A reading is one line, so both ends agree.
  const was: [number, number] = [now.low - by.low, now.high - by.high];
  const levels = [now.low, now.high, ...was];
  const top = Math.ceil(Math.max(...levels) + 0.3);
  const bottom = Math.floor(Math.min(...levels) - 0.3);
  const y = (stops: number) => TOP + (top - stops) * RUNG;
  const height = y(bottom) + 14;
  const rungs = Array.from({ length: top - bottom + 1 }, (_, index) => top - index);
  const from = y((was[0] + was[1]) / 2);
  const to = y((now.low + now.high) / 2);
  const is_down = to > from;
  const text = words.join_words([change.title, by.shown]);
  return (
    <section class="pic" aria-label={w.change_drawing(change.title)}>
      <svg class="plot" viewBox={`0 0 ${WIDTH} ${height}`} role="img" aria-label={text}>
        {rungs.map((rung) => (
          <g key={rung}>
            <line x1={LEFT} x2={WIDTH} y1={y(rung)} y2={y(rung)} class={rung === 0 ? "tgt" : "rung"} />
            <text x={LEFT - 8} y={y(rung) + 5} text-anchor="end" class="ax">
              {rungName(rung)}
            </text>
          </g>
        ))}
        <line x1={X - 24} x2={X + 24} y1={from} y2={from} class="was" />
        <text x={X - 30} y={from - 5} text-anchor="end" class="lt">
          {w.was("").trim()}
        </text>
        <rect
          x={X + 56}
          y={y(now.high)}
          width="10"
          height={Math.max(1, y(now.low) - y(now.high))}
          class="fan"
        />
        <path
          d={`M${X + 51} ${y(now.high)}h20M${X + 61} ${y(now.high)}V${y(now.low)}M${X + 51} ${y(now.low)}h20`}
          class="cup"
        />
        {Math.abs(to - from) > 8 && (
          <path
            d={`M${X + 36} ${from}V${to}m-6 ${is_down ? -8 : 8}l6 ${is_down ? 8 : -8}l6 ${is_down ? -8 : 8}`}
            class="drop"
          />
        )}
        <text x={X + 80} y={y(now.low) + 4} class="lt b">
          {w.now}
        </text>
        <text x={X + 80} y={y(now.low) - 14} class="lt b light">
          {by.shown}
        </text>
      </svg>
    </section>
  );
}

const w = words.sheet.light;
