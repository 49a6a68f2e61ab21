// One department's rows over the shots in order. A tick is one tap on the whole row.
import { useEffect } from "preact/hooks";
import { paintedRow, tickAll } from "../../acting";
import { useAnswer, useSlow } from "../../asked";
import { is_rolling, my_departments, type ShotNow, shots_in_order, shots_waiting } from "../../day_reads";
import { facts } from "../../day_signals";
import { useInView } from "../../in_view";
import { departmentLabel } from "../../kinds_table";
import { Empty, Fold, Head, Progress, saidOnce } from "../../parts/blocks";
import { Strip } from "../../parts/said";
import { Tabs } from "../../parts/tabs";
import { link } from "../../routing";
import type { ListGroup, Row } from "../../sheet_types";
import { words } from "../../words";
import { OwnWordOf } from "../board/own_word";
import { screen_ask } from "../frame/asks";
import { Ticking } from "../shot/ticking";
import { rowKey, type SteadyGroup, useSteady } from "./steady";
import { WaysToTick } from "./ways";

/** What the rules need of a shot to pick one department's rows: the rest would only cost time on the way. */
const forList = ({ shot, sheet }: ShotNow) => ({ shot, sheet: { shot: sheet.shot, rows: sheet.rows } });

const Rows = ({ rows }: { rows: Row[] }) => (
  <>
    {saidOnce(rows).map((row) => (
      <div key={rowKey(row)} data-row={row.record}>
        <Ticking row={row} />
      </div>
    ))}
  </>
);

type OneShotProps = SteadyGroup & { cut: number; department: string; wanted: string };

function OneShot({ group, open, folds, done, off, cut, department, wanted }: OneShotProps) {
  const folded = folds.flatMap(({ rows }) => rows);
  const all = [...open, ...folded, ...done];
  const isWanted = (rows: Row[]) => rows.some(({ record }) => record === wanted);
  const done_now = all.filter((row) => paintedRow(row).state === "done").length;
  if (open.length + folded.length === 0) {
    return (
      <Fold title={`${group.number} ${group.title}`} count={words.list.open_done(0, done_now)}>
        <Rows rows={[...done, ...off]} />
      </Fold>
    );
  }
  return (
    <section>
      <a class="thing" href={link("shot", [group.shot, "rig"])}>
        <h2>
          <Strip number={group.number} name={group.title} is_small cut={cut} />
        </h2>
        <span class="go-on">{words.list.open_done(all.length - done_now, done_now)}</span>
      </a>
      <Rows rows={open} />
      {folds.map(({ key, title, rows }) => (
        <Fold key={key} title={title} count={rows.length} is_open={isWanted(rows)}>
          <Rows rows={rows} />
        </Fold>
      ))}
      <OwnWordOf shot={group.shot} department={department} />
      {done.length > 0 && (
        <Fold title={words.list.done} count={done.length}>
          <Rows rows={done} />
        </Fold>
      )}
      {off.length > 0 && (
        <Fold title={words.list.off} count={off.length}>
          <Rows rows={off} />
        </Fold>
      )}
    </section>
  );
}

/** Ask in the dock to tick again what has moved: all of this list in one tap. */
function useTickAgain(groups: ListGroup[]): void {
  const again = new Map<string, Row>();
  for (const row of groups.flatMap(({ rows }) => rows)) {
    if (paintedRow(row).state === "again") again.set(rowKey(row), row);
  }
  const key = [...again.keys()].join(" ");
  useEffect(() => {
    const rows = [...again.values()];
    screen_ask.value = rows.length
      ? {
          key: `again ${key}`,
          answers: [
            { word: words.tick.both_again(rows.length), is_main: true, act: () => void tickAll(rows) },
          ],
        }
      : null;
    return () => {
      screen_ask.value = null;
    };
  }, [key]);
}

/** The head keeps room for "2 new, show": what came in waits there and pushes no row down. */
function ListHead({ department, news }: { department: string; news?: { count: number; show: () => void } }) {
  const mine = my_departments.value;
  return (
    <>
      <div class={news?.count ? "news-head has-news" : "news-head"}>
        <Head number={departmentLabel(department)} name={words.nav.list} />
        {is_rolling.value && <b class="rolling">{words.list.rolling}</b>}
        {!is_rolling.value && news && news.count > 0 && (
          <button type="button" class="news" onClick={news.show}>
            {words.list.news(news.count)}
          </button>
        )}
      </div>
      {mine.length > 1 && (
        <Tabs
          name={words.list.departments}
          current={department}
          tabs={mine.map((key) => ({ key, word: departmentLabel(key), href: link("list", [key]) }))}
        />
      )}
    </>
  );
}

function DepartmentList({ department, wanted }: { department: string; wanted: string }) {
  const shots = shots_in_order.value.filter(({ readiness }) => readiness.state !== "done");
  const { answer, refusal, is_current } = useAnswer<{ groups: ListGroup[] }>(
    { do: "list", department, shots: shots.map(forList) },
    shots.map(({ summary }) => summary),
  );
  const is_slow = useSlow(!answer && !refusal);
  if (answer) {
    const is_growing = !is_current || shots_waiting.value.length > 0 || facts.value?.computing !== false;
    return <Laid groups={answer.groups} department={department} is_growing={is_growing} wanted={wanted} />;
  }
  return (
    <>
      <ListHead department={department} />
      <Progress sentence={words.wait.working} is_slow={is_slow} />
      {refusal && <Empty sentence={words.list.no_rules} next={refusal} />}
    </>
  );
}

type LaidProps = { groups: ListGroup[]; department: string; is_growing: boolean; wanted: string };

/** Whoever came for one row finds it in sight, with the focus on it. */
function useWanted(record: string, is_there: boolean): void {
  useEffect(() => {
    if (!record || !is_there) return;
    const row = document.querySelector<HTMLElement>(`[data-row="${CSS.escape(record)}"]`);
    row?.scrollIntoView({ block: "center" });
    row?.querySelector<HTMLElement>("button, a")?.focus({ preventScroll: true });
  }, [record, is_there]);
}

function Laid({ groups, department, is_growing, wanted }: LaidProps) {
  const { steady, waiting, show } = useSteady(groups, is_rolling.value, is_growing);
  useTickAgain(groups);
  useWanted(
    wanted,
    groups.some(({ rows }) => rows.some(({ record }) => record === wanted)),
  );
  return (
    <>
      <ListHead department={department} news={{ count: waiting, show }} />
      {steady.map((one, index) => (
        <OneShot key={one.group.shot} {...one} cut={index} department={department} wanted={wanted} />
      ))}
      {steady.length === 0 &&
        (facts.value?.matched_ms ? (
          <Empty sentence={words.list.empty(departmentLabel(department))} next={words.list.empty_do} />
        ) : (
          <Empty sentence={words.day.fetching} next={words.day.fetching_more} />
        ))}
      <div class="actions btns">
        <a class="btn" href={link("add", ["task"], { department })}>
          {words.list.add_task}
        </a>
      </div>
      <WaysToTick />
    </>
  );
}

export function ListScreen({ parts, about }: { parts: string[]; about: URLSearchParams }) {
  const department = parts[0] ?? my_departments.value[0] ?? "";
  useInView("", "");
  const wanted = about.get("row") ?? "";
  if (department) return <DepartmentList key={department} department={department} wanted={wanted} />;
  return (
    <>
      <Head number={words.nav.list} />
      <Empty sentence={words.list.no_department}>
        <a class="btn solid" href={link("phone")}>
          {words.list.choose}
        </a>
      </Empty>
    </>
  );
}
