// The whole day in the words of the rules: who is on it, what holds it, who waits for whom, how old each department's word is.
// Asked again when what it rests on changes; the last answer stays meanwhile.
import { computed, effect, signal, untracked } from "@preact/signals";
import { now, utcOffsetMin } from "./clock";
import { departmentsOf, gather, idOf, isUnsent, my_departments, shots_in_order } from "./day_reads";
import { facts, record, recordsOf, shown } from "./day_signals";
import { arrivals, ask, tellIn } from "./engine/client";
import type { Fields, RecordKey } from "./engine/contract";
import { kinds_table } from "./kinds_table";
import { units } from "./preferences";
import { place } from "./routing";
import type { Board, DayForecast, DaySheet, OwnWord } from "./sheet_types";

const PAUSE_MS = 120;
const DAY_KINDS = ["day", "scene", "shot", "person", "hold", "request", "performer"];

/** What holds are on belongs to the day too, with its parts: a hold whose target is gone holds the whole day. */
function withTargets(): { [key: RecordKey]: Fields } {
  const gathered = gather(DAY_KINDS);
  for (const key of recordsOf("hold").value) {
    const on = shown(gathered[key]?.on);
    const fields = typeof on === "string" ? record(on).value : undefined;
    if (typeof on === "string" && fields) Object.assign(gathered, { [on]: fields });
  }
  return { ...gather(["layer"]), ...gathered };
}

export const day_sheet = signal<DaySheet | null>(null);
export const board = signal<Board | null>(null);
export const forecast = signal<DayForecast | null>(null);
/** Why the last question was not answered, "" when it was. */
export const day_refusal = signal("");

/** What of a stored work is read here; the rest goes to the rules as it is. */
type Work = { words?: OwnWord[]; old_after_min?: number | null };
const wordsOf = (work: unknown): OwnWord[] => (work as Work | undefined)?.words ?? [];
const minute = computed(() => Math.floor(now.value / 60_000));
/** The time now, followed by the minute: ages and forecasts change no faster. */
const thisMinute = (): number => (minute.value ? untracked(() => now.value) : 0);

type Question = { do: string; [name: string]: unknown };

/**
 * Ask what `question` returns when its signals change: a moment after the first change, and again as often as more came while
 * the rules were at it. One question at a time, so that many changes never queue up behind each other.
 */
function follow(question: () => Question | null, take: (answer: unknown) => void): void {
  let newest: Question | null = null;
  let is_busy = false;
  const next = async (): Promise<void> => {
    const asked = newest;
    newest = null;
    is_busy = asked !== null;
    if (!asked) return;
    try {
      const answer = await ask(asked);
      day_refusal.value = answer.ok ? "" : answer.sentence;
      if (answer.ok) take(answer);
    } catch (error) {
      day_refusal.value = String(error);
    }
    soon();
  };
  const soon = () => setTimeout(() => void next(), PAUSE_MS);
  effect(() => {
    newest = question();
    if (!newest || is_busy) return;
    is_busy = true;
    soon();
  });
}

type Newest = Map<string, [id: string, at_ms: number]>;
/** The newest live edit of each person, and when the server received it, by its id. */
const newest_edits = signal<Newest>(new Map());
const arrived = signal<{ [id: string]: number }>({});

function newestEdits(): Newest {
  const newest: Newest = new Map();
  for (const kind of kinds_table.value.kinds) {
    for (const key of recordsOf(kind.name).value) {
      for (const cell of Object.values(record(key).peek() ?? {})) {
        for (const [id, , at_ms, by, for_whom] of cell[1]) {
          const person = for_whom || by;
          if (at_ms > (newest.get(person)?.[1] ?? 0)) newest.set(person, [id, at_ms]);
        }
      }
    }
  }
  return newest;
}

/**
 * When each department was last heard of, by this phone's clock: when the server received it, or when it was made if that was
 * earlier (a tick from a basement is as old as it was made); of what is made here and not sent yet the time of making. What
 * came another way has no known time, 0, and counts as old.
 */
function lastWords(): { [department: string]: number } {
  const ahead_ms = facts.value?.clock_ahead_ms ?? 0;
  const words: { [department: string]: number } = {};
  for (const [person, [id, made_ms]] of newest_edits.value) {
    const received_ms = arrived.value[id];
    const at_ms = received_ms ? Math.min(received_ms + ahead_ms, made_ms) : isUnsent([id]) ? made_ms : 0;
    for (const department of departmentsOf(person)) {
      words[department] = Math.max(words[department] ?? 0, at_ms);
    }
  }
  return words;
}

/** When each shot will be ready: asked while the board is in sight. Null while the day or a shot was not worked out yet. */
export function forecastQuestion(): Question | null {
  const shots = shots_in_order.value.map(({ summary }) => summary.work);
  if (!day_sheet.value?.work || !shots.length || shots.includes(undefined)) return null;
  const when = { now_ms: thisMinute(), utc_offset_min: utcOffsetMin() };
  return { do: "forecast", shots, day: day_sheet.value.work, ...when };
}

export function followDay(): void {
  effect(() => {
    const how = { units: units.value, utc_offset_min: utcOffsetMin() };
    tellIn(how).catch((error: unknown) => console.error("the engine was not told the units", error));
  });
  follow(
    () => ({
      do: "day",
      records: withTargets(),
      now_ms: untracked(() => now.value),
      units: units.value,
      utc_offset_min: utcOffsetMin(),
    }),
    (answer) => {
      day_sheet.value = answer as DaySheet;
    },
  );
  effect(() => {
    if (!facts.value?.edits || !shots_in_order.value.length) return;
    const newest = newestEdits();
    newest_edits.value = newest;
    const ids = [...newest.values()].map(([id]) => id);
    arrivals(ids).then(
      (found) => {
        if (JSON.stringify(found) !== JSON.stringify(arrived.peek())) arrived.value = found;
      },
      (error: unknown) => console.error("the engine did not say when edits arrived", error),
    );
  });
  follow(
    () => {
      const mine = my_departments.value;
      const is_shown = place.value.screen === "board";
      // Only what the board reads: every byte is read again by the rules at every change.
      const shots = shots_in_order.value.map(({ shot, readiness, summary }) => ({
        shot,
        readiness: { ...readiness, reasons: [], departments: is_shown ? readiness.departments : {} },
        words: wordsOf(summary.work).filter(({ department }) => is_shown || mine.includes(department)),
      }));
      return {
        do: "board",
        shots,
        old_after_min: (day_sheet.value?.work as Work | undefined)?.old_after_min,
        last_words: lastWords(),
        now_ms: thisMinute(),
        complete: facts.value?.incomplete.length === 0,
        incomplete: facts.value?.incomplete ?? [],
        utc_offset_min: utcOffsetMin(),
      };
    },
    (answer) => {
      board.value = answer as Board;
    },
  );
  follow(
    () => {
      const asked = forecastQuestion();
      return place.value.screen === "board" ? asked : null;
    },
    (answer) => {
      forecast.value = answer as DayForecast;
    },
  );
}

/** How many others have read past every edit that raises a hold: 0 means it has reached nobody. */
export const heardBy = (ids: string[]): number =>
  ids.length ? Math.min(...ids.map((id) => facts.value?.heard[id] ?? 0)) : 0;

export const numberOfShot = (shot: string): string => {
  const found = shots_in_order.value.find((one) => one.shot === shot);
  return found?.sheet.shot.number || (shot ? idOf(`shot/${shot}`) : "");
};
