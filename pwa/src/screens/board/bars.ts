// The bars of the day, from what the rules forecast.
import { timeOfDay } from "../../clock";
import type { ShotNow } from "../../day_reads";
import type { DayBar } from "../../plots/day_bars";
import type { Forecast } from "../../sheet_types";
import { words } from "../../words";

const w = words.board;
const MINUTE_MS = 60_000;

export function barOf({ shot, sheet, readiness }: ShotNow, forecast: Forecast | undefined): DayBar {
  const { number, phase } = sheet.shot;
  const when = forecast?.when ?? null;
  const planned_ms = forecast?.planned_ms ?? null;
  const is_done = readiness.state === "done";
  const says = is_done
    ? w.done
    : phase === "rolling"
      ? w.rolling
      : !forecast || forecast.is_open
        ? w.no_range
        : w.nothing_left;
  const said = forecast?.words.filter((word) => word.stands && word.said === "more" && word.minutes) ?? [];
  const plan = planned_ms === null || is_done ? "" : `planned ${timeOfDay(planned_ms)}`;
  return {
    key: shot,
    number,
    planned_ms,
    range: when,
    words_ms: said.map(({ at_ms, minutes }) => at_ms + (minutes ?? 0) * MINUTE_MS),
    says: when ? "" : says,
    told: words.join_words([
      number,
      forecast?.plan || plan,
      when && !forecast?.plan ? when.shown : "",
      when ? "" : says,
    ]),
  };
}
