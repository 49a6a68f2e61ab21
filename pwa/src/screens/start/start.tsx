// Starting points: set-ups by their trade names, the usual lists of a kind of shot, and the production's own. One tap each.
import { useState } from "preact/hooks";
import { save } from "../../acting";
import { useAnswer } from "../../asked";
import { gather, idOf, shots_in_order, textOf, titleOf } from "../../day_reads";
import { record, recordsOf, shown } from "../../day_signals";
import { newId } from "../../engine/client";
import { Caution, Fold, Head, NotSaved } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { link, onward } from "../../routing";
import { words } from "../../words";
import { make, tables } from "../build/making";
import { NoShot } from "../shot/no_shot";

const w = words.build;
type Point = { name: string; title: string; line: string; cautions: string[]; makes: "light" | "list" };

function OnePoint({
  point,
  shot,
  onFailed,
}: {
  point: Point;
  shot: string;
  onFailed: (why: string) => void;
}) {
  const [is_going, setGoing] = useState(false);
  const start = async () => {
    if (is_going) return;
    setGoing(true);
    const goOn = onward();
    const question = { do: "start", name: point.name, shot, tables: await tables() };
    const { refused } = await make(question, point.title);
    setGoing(false);
    onFailed(refused);
    if (!refused) goOn(link("shot", [shot, point.makes === "list" ? "rig" : "light"]));
  };
  return (
    <button type="button" class="row plain" onClick={() => void start()}>
      <span>
        <span class="t">
          <b>
            <Said>{point.title}</Said>
          </b>
        </span>
        <span class="n">
          <Said>{point.line}</Said>
        </span>
        {point.cautions.map((sentence) => (
          <Caution key={sentence} caution={{ code: "start", sentence }} />
        ))}
      </span>
    </button>
  );
}

/** Sources that burn in this shot: each may be kept as the production's own starting point. */
function KeepOwn({ shot }: { shot: string }) {
  const levels = recordsOf("level").value.filter((key) => shown(record(key).value?.shot) === shot);
  if (!levels.length) return null;
  return (
    <Fold title={w.keep_own} count={levels.length}>
      {levels.map((key) => {
        const source = textOf(key, "source");
        const title = titleOf(`source/${source}`);
        const act = { kind: "starting_point", record: newId(), set: { title, source, shot } };
        return (
          <button
            key={key}
            type="button"
            class="row plain"
            onClick={() => void save([act], w.kept_as(title))}
          >
            <span class="t">
              <Said>{title}</Said>
            </span>
          </button>
        );
      })}
    </Fold>
  );
}

export function StartScreen({ about }: { about: URLSearchParams }) {
  const shot = about.get("shot") ?? shots_in_order.value[0]?.shot ?? "";
  const own = recordsOf("starting_point").value;
  const [failed, setFailed] = useState("");
  const { answer, refusal } = useAnswer<{ points: Point[] }>(
    { do: "starting_points", records: gather(["starting_point", "source", "shot"]) },
    [own.map(idOf).join()],
  );
  if (!shot) return <NoShot title={w.start_title} />;
  const of = (makes: string) =>
    answer?.points
      .filter((one) => one.makes === makes)
      .map((point) => <OnePoint key={point.name} point={point} shot={shot} onFailed={setFailed} />);
  return (
    <>
      <Head number={textOf(`shot/${shot}`, "number")} name={w.start_title} />
      <p class="para sub">{w.start_more}</p>
      <NotSaved sentence={failed || refusal} />
      {of("light")}
      <h2>{w.lists}</h2>
      {of("list")}
      <KeepOwn shot={shot} />
    </>
  );
}
