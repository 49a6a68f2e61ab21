// What an edit did to the light: the levels of the shots that read this record, beside what they were before.
import { useRef } from "preact/hooks";
import { shots_in_order } from "../../day_reads";
import { LevelFigure } from "../../parts/figures";
import { Said } from "../../parts/said";
import type { Level } from "../../sheet_types";
import { words } from "../../words";

const LIGHT_KINDS = ["source", "layer", "level", "point", "dressing", "serves", "shot", "reading", "setup"];
const SHOTS = 3;

export const isOfLight = (kind: string): boolean => LIGHT_KINDS.includes(kind);

type Told = { key: string; number: string; level: Level; words: string };

const wordsOf = (level: Level): string => level.stops?.shown ?? level.lux?.shown ?? words.shot.unknown;

export function levelsFor(record: string, shot: string): Told[] {
  const reading = shots_in_order.value.filter((one) => one.sheet.reads.includes(record));
  const wanted = shot ? reading.filter((one) => one.shot === shot) : reading.slice(0, SHOTS);
  return wanted.flatMap(({ shot: id, sheet }) =>
    sheet.light.levels.map((level) => ({
      key: `${id} ${level.point} ${level.role}`,
      number: sheet.shot.number,
      level,
      words: wordsOf(level),
    })),
  );
}

/** The levels before someone changes a field: `note` is called when they begin. */
export function useLevelsBefore(
  record: string,
  shot: string,
): { before: Map<string, string>; note: () => void } {
  const before = useRef(new Map<string, string>());
  const note = () => {
    if (before.current.size) return;
    for (const one of levelsFor(record, shot)) before.current.set(one.key, one.words);
  };
  return { before: before.current, note };
}

export function LightBeside(props: { record: string; shot: string; before: Map<string, string> }) {
  const told = levelsFor(props.record, props.shot);
  if (!told.length) return null;
  return (
    <section aria-label={words.record.levels}>
      {told.map(({ key, number, level, words: now }) => {
        const was = props.before.get(key);
        return (
          <div key={key} class="lv">
            <span class="lab">
              <Said>{words.join_words([number])}</Said>
            </span>
            <span>
              <LevelFigure shown={now} kind={level.kind} />
            </span>
            <span class="n">
              <Said>{level.title}</Said>
              {was !== undefined && was !== now && `, ${words.record.was(was)}`}
            </span>
          </div>
        );
      })}
    </section>
  );
}
