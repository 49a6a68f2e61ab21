// A text about this phone for whoever helps. Versions, counts, sizes, errors; nothing of what people wrote.
import type { DayEngine } from "./day_engine";

export async function reportOf(day: DayEngine): Promise<string> {
  await day.measureStorage();
  const facts = day.facts();
  const when = (ms: number | null): string => (ms ? new Date(ms).toISOString() : "never");
  const state = day.exchange?.state;
  const sets = Object.entries(state?.sets ?? {}).map(
    ([set, one]) => `${set} read to ${one.place} of ${one.reach}`,
  );
  return [
    `Tailslate, rules ${facts.rules ?? "not up"}, build ${__BUILD__}`,
    `at ${when(Date.now())}, incarnation ${day.incarnation}`,
    `edits ${facts.edits}, acts of this phone ${facts.acts}, records ${day.state.cells.records.size}`,
    `unsent ${facts.unsent}, oldest ${when(facts.oldest_unsent_ms)}, refused ${facts.refused.length}`,
    `heard ${when(facts.heard_ms)}, matched ${when(facts.matched_ms)}, failures ${state?.failures ?? 0}, next ${when(state?.next_ms ?? null)}`,
    `sets: ${sets.join("; ") || "none"}`,
    `incomplete: ${facts.incomplete.map(({ code }) => code).join(", ") || "no"}`,
    `clock ahead of the server ${facts.clock_ahead_ms ?? "unknown"} ms`,
    `${facts.kept}; ${facts.bytes ?? "unknown"} of ${facts.bytes_allowed ?? "unknown"} bytes`,
    `notices: ${facts.notices.map(({ code }) => code).join(", ") || "none"}`,
    `secure context ${globalThis.isSecureContext}, locks ${!!navigator.locks}, channel ${typeof BroadcastChannel !== "undefined"}`,
    navigator.userAgent,
    ...day.notices.errors.map((line) => `error ${line}`),
  ].join("\n");
}
