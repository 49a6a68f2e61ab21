// The one voice for screen readers: what was saved and every new hold at once, the rest of what came in as a short
// summary, at most every ten seconds.
import { effect, signal } from "@preact/signals";
import { shots_in_order } from "./day_reads";
import { day_sheet } from "./day_sheet";
import { facts } from "./day_signals";
import { words } from "./words";

const EVERY_MS = 10_000;
export const spoken = signal("");
let waiting: string[] = [];
let changes_waiting = 0;
let last_ms = Number.NEGATIVE_INFINITY;
let timer = 0;

function speak(): void {
  timer = 0;
  last_ms = performance.now();
  const counted = changes_waiting ? [words.live.changes(changes_waiting)] : [];
  spoken.value = [...counted, ...waiting].join(". ");
  waiting = [];
  changes_waiting = 0;
}

export function announce(text: string, changes = 0): void {
  changes_waiting += changes;
  if (text && !waiting.includes(text)) waiting.push(text);
  if (!timer) timer = window.setTimeout(speak, Math.max(50, last_ms + EVERY_MS - performance.now()));
}

/** Said at once: what this person just saved, and a hold. Said again where it is the same twice. */
export function announceNow(text: string): void {
  spoken.value = spoken.value === text ? `${text}\u00a0` : text;
}

/** Follow the day and say what changed. Called once, by the app. */
export function startAnnouncing(): void {
  let others = -1;
  let holds: Set<string> | null = null;
  effect(() => {
    if (!day_sheet.value || !facts.value?.matched_ms) return;
    const standing = day_sheet.value.holds.filter(({ cleared }) => !cleared);
    for (const { record, line } of standing)
      if (holds && !holds.has(record)) announceNow(words.live.hold(line));
    holds = new Set(standing.map(({ record }) => record));
  });
  let states = new Map<string, string>();
  effect(() => {
    const now = facts.value;
    if (!now) return;
    if (!now.matched_ms) return; // the first reading of the day is no news
    const count = now.edits - now.acts;
    if (others >= 0 && count > others) announce("", count - others);
    others = count;
  });
  effect(() => {
    const seen = new Map<string, string>();
    for (const { sheet, readiness } of shots_in_order.value) {
      const number = sheet.shot.number || sheet.shot.title;
      seen.set(number, readiness.word);
      const before = states.get(number);
      if (before && before !== readiness.word) announce(words.live.state(number, readiness.word));
    }
    states = seen;
  });
}
