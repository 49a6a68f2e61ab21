// Below a shot: from the shot before, beside an old day, paper, and what happens between takes.
import { useState } from "preact/hooks";
import { type SaveAnswer, save } from "../../acting";
import { idOf, type ShotNow, titleOf } from "../../day_reads";
import { paintedIds, record, recordNow, shown } from "../../day_signals";
import { newId, type ScreenAct } from "../../engine/client";
import { Fold, NotSaved } from "../../parts/blocks";
import { link } from "../../routing";
import { words } from "../../words";

const w = words.record_of_day.between;

const Way = ({ title, more, href }: { title: string; more: string; href: string }) => (
  <a class="row plain" href={href}>
    <span>
      <span class="t">{title}</span>
      <span class="n">{more}</span>
    </span>
  </a>
);

/** A reset: what the glasses of the scene hold at their lines is filled anew, a record of use each. */
function resetActs({ sheet, shot }: ShotNow, take: number): ScreenAct[] {
  return sheet.rows.glasses
    .filter(({ record: key }) => key.startsWith("drink/"))
    .map(({ record: key }) => {
      const fields = recordNow(key);
      const glasses = shown(fields?.glasses);
      const pieces = typeof glasses === "number" ? { amount: glasses } : {};
      const set = { on: key, shot, ...pieces, ...(take > 0 ? { take } : {}) };
      return { kind: "used", record: newId(), set };
    });
}

function Takes({ found }: { found: ShotNow }) {
  const [answer, setAnswer] = useState<SaveAnswer | null>(null);
  const cell = record(`shot/${found.shot}`).value?.takes;
  const value = shown(cell);
  const takes = typeof value === "number" ? value : 0;
  const oneMore = () =>
    save(
      [{ kind: "shot", record: found.shot, set: { takes: takes + 1 }, painted: { takes: paintedIds(cell) } }],
      w.takes(String(takes + 1)),
    ).then(setAnswer);
  const acts = resetActs(found, takes);
  return (
    <div class="line">
      <b>{w.takes(value === undefined || value === null ? words.record.unknown : String(takes))}</b>
      <span class="n">{w.takes_more}</span>
      <div class="btns">
        <button type="button" class="btn" onClick={() => void oneMore()}>
          {w.take}
        </button>
        {acts.length > 0 && (
          <button type="button" class="btn" onClick={() => void save(acts, w.reset).then(setAnswer)}>
            {w.reset}
          </button>
        )}
        <a class="btn" href={link("add", ["used"], { shot: found.shot })}>
          {w.used}
        </a>
      </div>
      {acts.length > 0 && (
        <span class="n">
          {w.reset_more}: {acts.map(({ set }) => titleOf(String(set.on))).join(", ")}
        </span>
      )}
      <NotSaved sentence={answer?.reasons[0]?.sentence ?? ""} />
    </div>
  );
}

export function BetweenShots({ found }: { found: ShotNow }) {
  const shot = idOf(found.sheet.shot.record);
  return (
    <Fold title={w.title}>
      <Way title={w.turn} more={w.turn_more} href={link("turn", [shot])} />
      <Way title={w.reference} more={w.reference_more} href={link("reference", [shot])} />
      <Way title={w.paper} more={w.paper_more} href={link("paper", [shot])} />
      <Way title={w.print} more={w.print_more} href={link("print", [shot])} />
      <Takes found={found} />
    </Fold>
  );
}
