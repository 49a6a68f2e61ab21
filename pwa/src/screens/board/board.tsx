// The producer's board: when each shot will be ready and how sure that is, what holds it up, and how old that knowledge is.
// Departments, never names. It says what the rules say, and never that it is safe to roll.
import { ago, now, timeOfDay } from "../../clock";
import { type ShotNow, shots_in_order } from "../../day_reads";
import { board, day_refusal, day_sheet, forecast } from "../../day_sheet";
import { facts, membership } from "../../day_signals";
import { useInView } from "../../in_view";
import { departmentLabel, kinds_table } from "../../kinds_table";
import { Caution, Empty, Head } from "../../parts/blocks";
import { Mark, markOf } from "../../parts/mark";
import { Said, Strip, stopped } from "../../parts/said";
import { DayBars } from "../../plots/day_bars";
import { link, recordLink } from "../../routing";
import type { Board, DayForecast, Forecast } from "../../sheet_types";
import { words } from "../../words";
import { DayHolds } from "../day/day";
import { RequestRow } from "../day/requests";
import { useWide } from "../frame/beside";
import { Meanings } from "../help/meanings";
import { EmptyDay, hasNoShot } from "../shot/no_shot";
import { Holds, Twos, Why } from "../shot/shot";
import { barOf } from "./bars";
import { wordLine } from "./own_word";
import { WhatIfOfDay } from "./what_if";

const w = words.board;
/** The server is asked every half minute while the app is in sight: three times that without an answer is not live. */
const LIVE_MS = 90_000;
const WIDTH = { phone: 358, laptop: 880 };

type BoardRow = Board["rows"][number];

/** Whether this phone hears the day as it happens, and if not, since when. */
function Heard() {
  const heard = facts.value?.heard_ms ?? null;
  const is_cut = facts.value?.notices.some(({ code }) => code === "not_reached") ?? true;
  const is_live = heard !== null && !is_cut && now.value - heard < LIVE_MS;
  const said =
    heard === null ? w.never : is_live ? w.live(timeOfDay(heard)) : w.not_live(timeOfDay(heard), ago(heard));
  return (
    <p class={is_live ? "para sub" : "para not-live"} role={is_live ? undefined : "status"}>
      {is_live ? said : <b>{said}</b>}
    </p>
  );
}

function Hours({ wrap, end, hours }: DayForecast) {
  const day = day_sheet.value?.day.record;
  return (
    <>
      <h2>{w.hours}</h2>
      {wrap && (
        <div class={wrap.over.length ? "row plain need" : "row plain"}>
          <span>
            <span class="t">
              <Said>{wrap.shown}</Said>
            </span>
            {wrap.over.length > 0 && <span class="n">{w.after_wrap(wrap.over.join(", "))}</span>}
            {end && <span class="n">{w.last_shot(end.shown)}</span>}
          </span>
        </div>
      )}
      {hours.map(({ what, state, shown, field, caution }) => {
        const href = field && day ? recordLink(day, { field }) : "";
        const inside = (
          <>
            <span>
              <span class="t">
                {state !== "within" && (
                  <b class={state === "over" ? "act" : undefined}>
                    {state === "over" ? w.over : w.unknown}.{" "}
                  </b>
                )}
                <Said>{shown}</Said>
              </span>
              {href && <span class="n">{words.sheet.fill_in}</span>}
            </span>
            <Caution caution={caution} />
          </>
        );
        const key = `${what} ${shown}`;
        if (href) {
          return (
            <a key={key} class="row plain" href={href}>
              {inside}
            </a>
          );
        }
        return (
          <div key={key} class={state === "over" ? "row plain need" : "row plain"}>
            {inside}
          </div>
        );
      })}
    </>
  );
}

/** Where a task is ticked: its department's list, at its row; a word is said on its shot. */
const doLink = (record: string, department: string, shot: string): string =>
  record.startsWith("word/") ? link("shot", [shot]) : link("list", [department], { row: record });

function DoFirst({ shots }: DayForecast) {
  const moved = shots.find(({ first }) => first.length);
  return (
    <>
      <h2>{w.first}</h2>
      <p class="para sub">{moved ? w.first_more(moved.number) : w.first_none}</p>
      {moved?.first.map(({ record, title, department, minutes_won }) => (
        <a key={record} class="row plain" href={doLink(record, department, moved.shot)}>
          <span>
            <span class="t">
              <Said>{title}</Said>
            </span>
            <span class="n">{departmentLabel(department)}</span>
          </span>
          <span class="fig">
            {w.wins(Math.round(minutes_won))}
            <u>{w.sooner}</u>
          </span>
        </a>
      ))}
    </>
  );
}

const oddsOf = ({ odds, plan, when }: Forecast): string =>
  odds ? w.odds_by(odds.shown, timeOfDay(odds.by_ms)) : when ? plan : "";

type OneShotProps = { found: ShotNow; row: BoardRow | undefined; when: Forecast | undefined; cut: number };

function OneShot({ found, row, when, cut }: OneShotProps) {
  const { shot, sheet, readiness } = found;
  const is_done = readiness.state === "done";
  // Until the rules have looked how old a 'ready' is, it is not shown as one.
  const said_state = row
    ? `${row.word}.`
    : readiness.state === "ready"
      ? `${words.wait.working} …`
      : `${readiness.word}.`;
  const said = when ? when.why_none || oddsOf(when) : "";
  const blockers = kinds_table.value.departments.flatMap(({ name, label }) => {
    const one = row?.departments[name] ?? readiness.departments[name];
    return one && one.word !== "done" ? [{ name, label, ...one }] : [];
  });
  return (
    <section class="board-shot">
      <a class="thing" href={link("shot", [shot])}>
        <h3>
          <Strip number={sheet.shot.number} name={sheet.shot.title} is_small cut={cut} />
        </h3>
        {when?.when && <span class="v range">{when.when.shown}</span>}
      </a>
      <p class="para">
        <b>{said_state}</b> <Said>{row?.sentence ?? ""}</Said>
      </p>
      {!is_done && (
        <>
          {said && (
            <p class="para sub">
              <Said>{stopped(said)}</Said>
            </p>
          )}
          {row?.words.map((word) => (
            <p key={word.record} class={word.said === "stuck" ? "para act" : "para sub"}>
              <Said>{wordLine(word)}</Said>
            </p>
          ))}
          {blockers.length > 0 && (
            <ul class="blockers">
              {blockers.map(({ name, label, state, word }) => (
                <li key={name}>
                  <Mark name={markOf(state)} is_small />
                  <span>
                    {label} <b>{state === "two" ? w.two : word}</b>
                  </span>
                </li>
              ))}
            </ul>
          )}
          <Holds sheet={sheet} />
          <Why reasons={readiness.reasons} shot={shot} sheet={sheet} />
        </>
      )}
    </section>
  );
}

function Knowledge({ told }: { told: Board }) {
  return (
    <>
      <h2>{w.knowledge}</h2>
      <ul class="knowledge">
        {told.departments.map(({ name, label, age: since, old }) => (
          <li key={name} class={old ? "old" : undefined}>
            <span>{label}</span> <b>{since}</b> {old && <small>{w.old}</small>}
          </li>
        ))}
      </ul>
    </>
  );
}

function Waiting() {
  const unheard = day_sheet.value?.requests.filter(({ answer }) => answer === "asked") ?? [];
  const twos = shots_in_order.value.filter(({ sheet }) => sheet.two_answers.length > 0);
  return (
    <>
      <h2>{w.waiting}</h2>
      {unheard.length === 0 && <p class="para sub">{w.none_waiting}</p>}
      {unheard.map((request) => (
        <RequestRow key={request.record} request={request} />
      ))}
      {twos.length > 0 && <h2>{w.twos}</h2>}
      {twos.map(({ shot, sheet }) => (
        <Twos key={shot} sheet={sheet} />
      ))}
    </>
  );
}

export function BoardScreen() {
  const told = board.value;
  const shots = shots_in_order.value;
  const is_wide = useWide();
  const day = forecast.value;
  const rowOf = (shot: string) => told?.rows.find((row) => row.shot === shot);
  const whenOf = (shot: string) => day?.shots.find((one) => one.shot === shot);
  useInView(day_sheet.value?.day.record ?? "");
  return (
    <>
      <Head
        number={w.title}
        name={day_sheet.value?.day.title || membership.value?.day_title}
        lines={[`${w.now} ${timeOfDay(now.value)}`]}
      />
      <Heard />
      <DayHolds />
      {shots.length === 0 &&
        (hasNoShot() ? <EmptyDay /> : <Empty sentence={w.empty} next={words.wait.working} />)}
      {shots.length > 0 && (
        <>
          <DayBars
            bars={shots.map((found) => barOf(found, whenOf(found.shot)))}
            now_ms={now.value}
            meal={day?.meal ?? null}
            wrap_ms={day?.wrap?.at_ms ?? null}
            width={is_wide ? WIDTH.laptop : WIDTH.phone}
            clock={timeOfDay}
          />
          <p class="para sub">{w.key}</p>
          {told && <Knowledge told={told} />}
          {day && <DoFirst {...day} />}
          <h2>{w.shots}</h2>
          <div class="board-shots">
            {shots.map((found, place) => (
              <OneShot
                key={found.shot}
                found={found}
                row={rowOf(found.shot)}
                when={whenOf(found.shot)}
                cut={place}
              />
            ))}
          </div>
          {!is_wide && <Waiting />}
          {day && <Hours {...day} />}
          <h2>{w.what_if}</h2>
          <p class="para sub">{w.what_if_more}</p>
          <WhatIfOfDay />
          <Meanings part="board" of={null} />
        </>
      )}
      {day_refusal.value && (
        <p class="para sub" role="alert">
          {words.error.rules} {day_refusal.value}
        </p>
      )}
    </>
  );
}
