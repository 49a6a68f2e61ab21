// What a value would do while it is typed, before it is saved: levels, margins, bags, loads and volumes of the shot in view.
import { signal } from "@preact/signals";
import { idOf, kindOf, type ShotNow, shots_in_order } from "../../day_reads";
import { record as recordSignal, shown } from "../../day_signals";
import type { Value } from "../../engine/contract";
import { Figure, LevelFigure } from "../../parts/figures";
import { Said } from "../../parts/said";
import type { Sheet } from "../../sheet_types";
import type { FiguresOf } from "../../sheet_types_of_things";
import { words } from "../../words";
import { useOfShot } from "../shot/ask_shot";

const w = words.build;
const SHOWN = 4;

/** What somebody types in a record, or in a form that makes one, with values that the rules accept. */
export const trying = signal<{ record: string; set: { [field: string]: Value }; is_new?: boolean } | null>(
  null,
);

type Line = {
  key: string;
  label: string;
  shown: string;
  kind: "range" | "reading" | "unknown";
  word: string;
};

const linesOf = (of: FiguresOf[]): Line[] =>
  of.flatMap(({ record, title, figures }) =>
    figures.map((one) => ({
      key: `${record} ${one.label}`,
      label: `${one.label}, ${title}`,
      shown: one.shown,
      kind: "reading" as const,
      word: one.word,
    })),
  );

/** Every worked-out line of a sheet that a record can move, the record's own first. */
function told(sheet: Sheet, record: string): Line[] {
  const things = [
    ...(sheet.rigging ?? []),
    ...(sheet.power?.circuits ?? []),
    ...(sheet.power?.batteries ?? []),
    ...(sheet.drinks ?? []),
    ...(sheet.tape?.jobs ?? []),
  ];
  const own = things.filter((one) => one.record === record);
  const others = things.filter((one) => one.record !== record);
  const levels = sheet.light.levels.map(
    (level): Line => ({
      key: `${level.point} ${level.role}`,
      label: level.title,
      shown: level.stops?.shown ?? level.lux?.shown ?? words.shot.unknown,
      kind: level.kind,
      word: "",
    }),
  );
  const seen = (sheet.frame?.figures ?? []).map(
    (one): Line => ({ key: one.label, label: one.label, shown: one.shown, kind: "reading", word: one.word }),
  );
  return [...linesOf(own), ...levels, ...seen, ...linesOf(others)];
}

function TrialOf({ found, record }: { found: ShotNow; record: string }) {
  const now = trying.value;
  const acts = now && [{ kind: kindOf(record), record: idOf(record), set: now.set }];
  const question = acts && { do: "what_if", acts };
  const { answer } = useOfShot<{ sheet: Sheet }>(found, question, [record, JSON.stringify(acts)]);
  if (!now || !answer) return null;
  const before = new Map(told(found.sheet, record).map((line) => [line.key, line.shown]));
  const changed = told(answer.sheet, record).filter((line) => before.get(line.key) !== line.shown);
  if (now.is_new && !changed.length) return null;
  return (
    <section class="trial" aria-live="polite" aria-label={w.would_be}>
      <p class="sub">
        <Said>{words.join_words([w.would_be, found.sheet.shot.number])}</Said>
        {changed.length === 0 && ` ${w.no_change}`}
      </p>
      {changed.slice(0, SHOWN).map((line) => (
        <div key={line.key} class="lv">
          <span>
            {line.kind === "range" ? (
              <LevelFigure shown={line.shown} kind="range" />
            ) : (
              <Figure amount={line.shown} />
            )}
          </span>
          <span class="n">
            <b>
              <Said>{line.label}</Said>
            </b>
            {line.word && `, ${line.word}`}
            {before.has(line.key) && `, ${w.was(before.get(line.key) ?? "")}`}
          </span>
        </div>
      ))}
    </section>
  );
}

/** The shot that values are tried on: the one that the screen came from, the first that reads the record or what it points to, its scene's. */
function shotOf(record: string, shot: string): ShotNow | undefined {
  const all = shots_in_order.value;
  const set = trying.value?.set ?? {};
  const keys = [record, ...Object.entries(set).map(([field, value]) => `${field}/${value}`)];
  const scene = set.scene ?? shown(recordSignal(record).value?.scene);
  return (
    all.find((one) => one.shot === shot) ??
    all.find(({ sheet }) => sheet.reads.some((key) => keys.includes(key))) ??
    all.find(({ sheet }) => scene && shown(recordSignal(sheet.shot.record).value?.scene) === scene)
  );
}

export function Trial({ record, shot }: { record: string; shot: string }) {
  const is_mine = trying.value?.record === record;
  const found = is_mine ? shotOf(record, shot) : undefined;
  return found ? <TrialOf key={found.shot} found={found} record={record} /> : null;
}
