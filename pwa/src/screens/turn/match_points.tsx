// How a shot stands beside another, point by point: what differs first, what is not known next, what matches folded away.
import { Fold } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said, unbroken } from "../../parts/said";
import { words } from "../../words";

export type MatchPoint = {
  about: string;
  now: string;
  then: string;
  state: "differs" | "may_differ" | "unknown" | "matches";
  word: string;
  difference: string;
  tolerance: string;
};
export type Match = { now: string; then: string; points: MatchPoint[]; sentence: string };

const STATES = ["differs", "may_differ", "unknown"] as const;

function PointRow({ one }: { one: MatchPoint }) {
  const w = words.record_of_day.turn;
  return (
    <div class="row plain">
      <span>
        <span class="t">
          <Said>{one.about}</Said>: <b>{one.word}</b>
        </span>
        <span class="n">
          {one.state === "unknown" && <Mark name="unk" is_small />} {w.now} <b>{unbroken(one.now)}</b>,{" "}
          {w.before} <b>{unbroken(one.then)}</b>
        </span>
        <span class="n">
          {unbroken(words.join_words([one.difference, one.tolerance && `${w.passes} ${one.tolerance}`]))}
        </span>
      </span>
    </div>
  );
}

export function MatchPoints({ match }: { match: Match }) {
  const rows = (state: string) =>
    match.points.filter((one) => one.state === state).map((one) => <PointRow key={one.about} one={one} />);
  const same = rows("matches");
  return (
    <>
      <p class="para" role="status">
        <b>{match.sentence}.</b>
      </p>
      {STATES.map(rows)}
      {same.length > 0 && (
        <Fold title={words.record_of_day.turn.same(same.length)} count="">
          {same}
        </Fold>
      )}
    </>
  );
}
