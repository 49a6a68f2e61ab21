// Where the shot is: one tap for the assistant director. While it rolls nothing moves on anyone's screen.
import { overlayOf, save } from "../../acting";
import { paintedIds, record as recordSignal, shown } from "../../day_signals";
import { fieldNamed } from "../../kinds_table";
import { Fold, NotSaved } from "../../parts/blocks";
import { Waiting } from "../../parts/slow";
import { words } from "../../words";
import { Choices, optionsOf } from "../record/chosen_entry";

export function Phase({ shot }: { shot: string }) {
  const field = fieldNamed("shot", "phase");
  const cell = recordSignal(`shot/${shot}`).value?.phase;
  const phase = shown(cell);
  const over = overlayOf(`shot/${shot}/phase`);
  if (!field) return null;
  const set = (next: string) => {
    const painted = { phase: paintedIds(cell) };
    void save([{ kind: "shot", record: shot, set: { phase: next }, painted }], words.record.choice(next));
  };
  return (
    <Fold title={words.shot.phase} count={phase ? words.record.choice(String(phase)) : words.record.unknown}>
      <div class="entry">
        <Choices
          label={words.shot.phase}
          options={optionsOf(field)}
          chosen={phase ? [String(phase)] : []}
          onChoose={([next]) => next && set(next)}
        />
        <Waiting sentence={words.wait.saving} is_going={over?.state === "saving"} />
        <NotSaved sentence={over?.state === "failed" ? over.sentence : ""} />
      </div>
    </Fold>
  );
}
