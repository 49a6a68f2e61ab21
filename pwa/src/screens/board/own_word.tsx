// A department's own word on a shot, in one tap: ready, so many minutes more, stuck. A tap on what stands takes it back.
import { useState } from "preact/hooks";
import { idOfEnds, save } from "../../acting";
import { ago } from "../../clock";
import { board } from "../../day_sheet";
import { record, recordsOf, shown } from "../../day_signals";
import { departmentLabel } from "../../kinds_table";
import { NotSaved } from "../../parts/blocks";
import { WordButtons } from "../../parts/word_buttons";
import type { OwnWord } from "../../sheet_types";
import { words } from "../../words";

const w = words.board.word;
const MORE_MIN = [10, 20, 45];

export const wordLine = (word: OwnWord): string => words.join_words([word.shown, ago(word.at_ms)]);

/** Where the word stands, "" while nobody gave one. */
const wordOf = (shot: string, department: string): string =>
  recordsOf("word").value.find((key) => {
    const fields = record(key).value;
    return shown(fields?.shot) === shot && shown(fields?.department) === department;
  }) ?? "";

export function OwnWordOf({ shot, department }: { shot: string; department: string }) {
  const [failed, setFailed] = useState("");
  const key = wordOf(shot, department);
  const fields = record(key).value;
  const said = shown(fields?.said) ?? null;
  const minutes = shown(fields?.minutes) ?? null;
  const told = board.value?.rows
    .find((row) => row.shot === shot)
    ?.words?.find((word) => word.department === department);
  const choice = (word: string, next: string, more: number | null = null) => {
    const is_on = said === next && minutes === more;
    const say = async () => {
      const set = { shot, department, said: is_on ? null : next, minutes: is_on ? null : more };
      const back = { shot, department, said, minutes };
      const what = `${departmentLabel(department)}: ${is_on ? w.take_back : word}`;
      const act = { kind: "word", record: await idOfEnds("word", set), set };
      const { reasons } = await save([act], what, [back]);
      setFailed(reasons[0]?.sentence ?? "");
    };
    const fail = (error: unknown) => setFailed(error instanceof Error ? error.message : String(error));
    return { key: word, word, is_on, say: () => void say().catch(fail) };
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
      <NotSaved sentence={failed} />
    </>
  );
}
