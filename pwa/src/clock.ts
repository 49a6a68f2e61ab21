// Times as the set's clock shows them. The day has a time zone of its own; a phone elsewhere still shows the set's.
import { signal } from "@preact/signals";
import { recordNow, recordsOf, shown } from "./day_signals";
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
  const zone = day ? shown(recordNow(day)?.time_zone) : "";
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

/** Minutes that the set's clock is ahead of UTC: the rules know no time zones and are told. */
export function utcOffsetMin(): number {
  const at = new Date(Math.floor(Date.now() / 60_000) * 60_000);
  const zone = zoneOfDay();
  const how: Intl.DateTimeFormatOptions = { dateStyle: "short", timeStyle: "medium", hourCycle: "h23" };
  try {
    const there = new Intl.DateTimeFormat("sv-SE", zone ? { ...how, timeZone: zone } : how).format(at);
    return (Date.parse(`${there.replace(" ", "T")}Z`) - at.getTime()) / 60_000;
  } catch {
    return -at.getTimezoneOffset(); // a zone that this browser does not know: the phone's own
  }
}
