// What changed on the day, newest first, with a way to each place and an undo. Rows stay where they are until asked anew.
import { useEffect, useState } from "preact/hooks";
import { offerUndo, save } from "../../acting";
import { useSlow } from "../../asked";
import { utcOffsetMin } from "../../clock";
import { my_departments } from "../../day_reads";
import { facts, paintedIds, recordNow } from "../../day_signals";
import { feed, remove } from "../../engine/client";
import type { FeedRow } from "../../engine/contract";
import { useInView } from "../../in_view";
import { Empty, Head, NotSaved, Progress } from "../../parts/blocks";
import { Said, Unseen } from "../../parts/said";
import { useGoing, Waiting } from "../../parts/slow";
import { units } from "../../preferences";
import { link, recordLink } from "../../routing";
import { isUnseen, lookedAtAll, unseen_count } from "../../seen";
import { words } from "../../words";
import { Choices } from "../record/chosen_entry";

const w = words.bring.feed;
const PAGE = 40;

/** The button that undoes one edit; nothing where the rules say why not. */
export function Undo({ row }: { row: FeedRow }) {
  const [is_undone, setUndone] = useState(false);
  const { is_going, failed, run } = useGoing();
  if (row.undo.why_not) return null;
  const undoIt = () =>
    run(async () => {
      await takeBack(row);
      setUndone(true);
    });
  return (
    <>
      <button
        type="button"
        class="btn narrow"
        disabled={is_going || is_undone}
        aria-label={w.undo_of(row.title, row.at)}
        onClick={() => void undoIt()}
      >
        {is_undone ? w.undone : w.undo}
      </button>
      <Waiting sentence={words.wait.saving} is_going={is_going} />
      <NotSaved sentence={failed} />
    </>
  );
}

async function takeBack({ undo, record, title }: FeedRow): Promise<void> {
  const [kind = "", id = ""] = record.split("/");
  if (undo.remove) {
    const answer = await remove(undo.remove);
    if (!answer.saved) throw new Error(answer.reasons[0]?.sentence);
    const painted = { present: paintedIds(recordNow(undo.remove)?.present) };
    offerUndo(title, [{ kind, record: id, set: { present: true }, painted }]);
    return;
  }
  const { saved, reasons } = await save(undo.acts, title);
  if (!saved) throw new Error(reasons[0]?.sentence);
}

const Change = ({ row }: { row: FeedRow }) => (
  <li>
    <a class="row plain" href={recordLink(row.record)}>
      <span>
        <span class="t">
          {isUnseen(row.record) && <Unseen />}
          <b>
            <Said>{row.title}</Said>
          </b>
          {row.did && `, ${w.did[row.did]}`}
        </span>
        {row.changes.map((sentence) => (
          <span key={sentence} class="n">
            <Said>{sentence}</Said>
          </span>
        ))}
        {row.more > 0 && <span class="n">{w.more(row.more)}</span>}
        <span class="n">{words.join_words([row.who, row.at])}</span>
        {row.undo.why_not && <span class="n">{row.undo.why_not}</span>}
      </span>
    </a>
    <Undo row={row} />
  </li>
);

type Loaded = { rows: FeedRow[]; is_all: boolean; edits: number };

export function FeedScreen() {
  const [only_mine, setOnlyMine] = useState(unseen_count.peek() > 0);
  const [count, setCount] = useState(PAGE);
  const [asked, setAsked] = useState(0);
  const [loaded, setLoaded] = useState<Loaded | null>(null);
  const [failed, setFailed] = useState("");
  const is_slow = useSlow(!loaded && !failed);
  useInView("", "");
  useEffect(() => {
    const told = { mine: my_departments.value, units: units.value, utc_offset_min: utcOffsetMin() };
    feed({ count, ...told }).then(
      (found) => setLoaded({ ...found, edits: facts.peek()?.edits ?? 0 }),
      (error: unknown) => setFailed(String(error)),
    );
  }, [count, asked, my_departments.value, units.value]);
  const news = loaded ? (facts.value?.edits ?? 0) - loaded.edits : 0;
  const rows = loaded?.rows.filter((row) => !only_mine || (row.for_mine && !row.by_mine)) ?? [];
  return (
    <>
      <div class={news > 0 ? "news-head has-news" : "news-head"}>
        <Head number={w.title} />
        {news > 0 && (
          <button type="button" class="news" onClick={() => setAsked(asked + 1)}>
            {words.list.news(news)}
          </button>
        )}
      </div>
      <div class="entry">
        <Choices
          label={w.show}
          options={[
            { value: "mine", word: w.for_mine },
            { value: "all", word: w.all },
          ]}
          chosen={[only_mine ? "mine" : "all"]}
          onChoose={([one]) => setOnlyMine(one === "mine")}
        />
      </div>
      {unseen_count.value > 0 && (
        <div class="actions btns">
          <button type="button" class="btn" onClick={lookedAtAll}>
            {w.looked(unseen_count.value)}
          </button>
        </div>
      )}
      <Progress sentence={words.wait.reading_day} is_slow={is_slow} />
      {failed && <Empty sentence={words.error.rules} next={failed} />}
      {loaded && rows.length === 0 && <Empty sentence={only_mine ? w.none_mine : words.day.no_changes} />}
      <ol class="feed">
        {rows.map((row) => (
          <Change key={row.id} row={row} />
        ))}
      </ol>
      {loaded && !loaded.is_all && (
        <div class="actions btns">
          <button type="button" class="btn" onClick={() => setCount(count + PAGE)}>
            {w.older}
          </button>
        </div>
      )}
      <div class="actions btns">
        <a class="btn" href={link("search")}>
          {words.bring.search.title}
        </a>
      </div>
    </>
  );
}
