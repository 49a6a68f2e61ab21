// Times as the set's clock shows them. The day has a time zone of its own; a phone elsewhere still shows the set's.
import { signal } from "@preact/signals";
import { record, recordsOf, shown } from "./day_signals";
import type { Offset } from "./engine/contract";
import { words } from "./words";

/** Wall time, moved on now and then while the app is in sight. */
export const now = signal(Date.now());
setInterval(() => {
  if (document.visibilityState === "visible") now.value = Date.now();
}, 15_000);
addEventListener("visibilitychange", () => {
  now.value = Date.now();
});

let formatter: { zone: string; format: Intl.DateTimeFormat } | null = null;

function zoneOfDay(): string {
  const [day] = recordsOf("day").value;
  const zone = day ? shown(record(day).value?.time_zone) : "";
  return typeof zone === "string" ? zone : "";
}

function formatIn(zone: string): Intl.DateTimeFormat {
  const how: Intl.DateTimeFormatOptions = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" };
  try {
    return new Intl.DateTimeFormat("en-GB", zone ? { ...how, timeZone: zone } : how);
  } catch {
    return new Intl.DateTimeFormat("en-GB", how); // a zone that this browser does not know
  }
}

/** "14:06" in the zone of the set. */
export function timeOfDay(ms: number): string {
  const zone = zoneOfDay();
  if (formatter?.zone !== zone) formatter = { zone, format: formatIn(zone) };
  return formatter.format.format(ms);
}

/** "6 min", "2 h 58": how long ago, without a word for seconds. */
export function age(ms: number): string {
  const minutes = Math.floor((now.value - ms) / 60_000);
  if (minutes < 1) return words.age.now;
  if (minutes < 60) return words.age.minutes(minutes);
  if (minutes < 2880) return words.age.hours(Math.floor(minutes / 60), minutes % 60);
  return words.age.days(Math.floor(minutes / 1440));
}

export const ago = (ms: number): string => {
  const since = age(ms);
  return since === words.age.now ? since : words.age.ago(since);
};

/** What tells how many minutes the clock of a zone is ahead of UTC; in a zone that this browser does not know: the phone's own. */
function aheadIn(zone: string): (ms: number) => number {
  const how: Intl.DateTimeFormatOptions = { dateStyle: "short", timeStyle: "medium", hourCycle: "h23" };
  try {
    const there = new Intl.DateTimeFormat("sv-SE", zone ? { ...how, timeZone: zone } : how);
    return (ms) => (Date.parse(`${there.format(ms).replace(" ", "T")}Z`) - ms) / 60_000;
  } catch {
    return (ms) => -new Date(ms).getTimezoneOffset();
  }
}

const WEEK_MS = 7 * 86_400_000;
const WEEKS = 54;

/** From a year ago to a week from now: a night in which clocks are changed is told by the clock that hung on the wall. */
function offsets(zone: string, now_ms: number): Offset {
  const aheadMin = aheadIn(zone);
  let last_ms = now_ms - WEEKS * WEEK_MS;
  const found: [number, number][] = [[0, aheadMin(last_ms)]];
  for (let ms = last_ms + WEEK_MS; ms <= now_ms + WEEK_MS; ms += WEEK_MS) {
    const before = found.at(-1)?.[1];
    if (aheadMin(ms) !== before) {
      let high = ms;
      for (let low = last_ms; high - low > 60_000; ) {
        const middle = Math.floor((low + high) / 120_000) * 60_000;
        if (aheadMin(middle) === before) low = middle;
        else high = middle;
      }
      found.push([high, aheadMin(high)]);
    }
    last_ms = ms;
  }
  return found.length > 1 ? found : (found[0] as [number, number])[1];
}

let known = { zone: "", day: 0, offsets: 0 as Offset };

/** Minutes that the set's clock is ahead of UTC: the rules know no time zones and are told. */
export function utcOffsetMin(): Offset {
  const zone = zoneOfDay();
  const day = Math.floor(Date.now() / 86_400_000);
  if (known.zone !== zone || known.day !== day)
    known = { zone, day, offsets: offsets(zone, day * 86_400_000) };
  return known.offsets;
}
