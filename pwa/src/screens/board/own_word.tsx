// A department's own word on a shot, in one tap: ready, so many minutes more, stuck. A tap on what stands takes it back.
import { overlayOf, save } from "../../acting";
import { ago } from "../../clock";
import { board } from "../../day_sheet";
import { record, shown } from "../../day_signals";
import { departmentLabel } from "../../kinds_table";
import { NotSaved } from "../../parts/blocks";
import { WordButtons } from "../../parts/word_buttons";
import type { OwnWord } from "../../sheet_types";
import { words } from "../../words";

const w = words.board.word;
const MORE_MIN = [10, 20, 45];

export const wordLine = (word: OwnWord): string => words.join_words([word.shown, ago(word.at_ms)]);

export function OwnWordOf({ shot, department }: { shot: string; department: string }) {
  const id = `${shot}~${department}`;
  const fields = record(`word/${id}`).value;
  const said = shown(fields?.said) ?? null;
  const minutes = shown(fields?.minutes) ?? null;
  const told = board.value?.rows
    .find((row) => row.shot === shot)
    ?.words?.find((word) => word.department === department);
  const over = overlayOf(`word/${id}/said`);
  const choice = (word: string, next: string, more: number | null = null) => {
    const is_on = said === next && minutes === more;
    const say = () => {
      const set = { shot, department, said: is_on ? null : next, minutes: is_on ? null : more };
      const back = { shot, department, said, minutes };
      const what = `${departmentLabel(department)}: ${is_on ? w.take_back : word}`;
      void save([{ kind: "word", record: id, set }], what, [back]);
    };
    return { key: word, word, is_on, say };
  };
  return (
    <>
      <WordButtons
        label={w.of(departmentLabel(department))}
        stands={said === null ? w.none(departmentLabel(department)) : told ? wordLine(told) : ""}
        choices={[
          choice(w.ready, "ready"),
          ...MORE_MIN.map((min) => choice(w.more(min), "more", min)),
          choice(w.stuck, "stuck"),
        ]}
      />
      <NotSaved sentence={over?.state === "failed" ? over.sentence : ""} />
    </>
  );
}
