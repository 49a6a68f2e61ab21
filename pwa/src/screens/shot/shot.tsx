// One shot: why it is or is not ready, then its parts as tabs.
import { my_departments, type ShotNow, shots_in_order, textOf } from "../../day_reads";
import { board } from "../../day_sheet";
import { record } from "../../day_signals";
import { useInView } from "../../in_view";
import { departmentLabel } from "../../kinds_table";
import { Caution, Empty, Fold, Head, HoldBlock, saidOnce } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said, Strip, stopped } from "../../parts/said";
import { Tabs, useSwipe } from "../../parts/tabs";
import { goInstead, link, place, recordLink } from "../../routing";
import type { Reason, Sheet } from "../../sheet_types";
import { words } from "../../words";
import { OwnWordOf } from "../board/own_word";
import { FromShot } from "../build/from_shot";
import { currentShot } from "../frame/foot";
import { Meanings } from "../help/meanings";
import { HoldReach } from "../hold/hold";
import { NotesOn } from "../record/notes_on";
import { BetweenShots } from "../turn/between";
import { ColourTab } from "./colour";
import { FrameTab } from "./frame";
import { GlassesTab } from "./glasses";
import { LightTab } from "./light";
import { NoShot } from "./no_shot";
import { Phase } from "./phase";
import { RigTab, TapeBlock } from "./rig";
import { Things } from "./things";
import { WhatIf } from "./what_if";

const TABS = ["light", "rig", "frame", "glasses", "colour", "dressing", "marks"] as const;
/** Whom the phase stands on top for; for everyone else what is to be done comes first. */
const RUN_THE_SHOT = ["assistant_directors", "script"];
type TabName = (typeof TABS)[number];

export function Holds({ sheet }: { sheet: Sheet }) {
  return sheet.holds
    .filter((hold) => !hold.cleared)
    .map((hold) => (
      <a key={hold.record} class="line" href={recordLink(hold.record)}>
        <HoldBlock word={hold.type === "watch" ? words.hold.watch : words.hold.word}>
          <Said>{stopped(hold.line)}</Said> <HoldReach ids={hold.ids} />{" "}
          {hold.waiting && <b>{words.hold.clearing}</b>}
        </HoldBlock>
        <Caution caution={hold.caution ?? null} />
      </a>
    ));
}

export const Twos = ({ sheet }: { sheet: Sheet }) =>
  saidOnce(sheet.two_answers).map((two) => (
    <a key={`${two.record}/${two.field}`} class="row need" href={`#/two/${two.record}/${two.field}`}>
      <Mark name="two" />
      <span>
        <span class="t">
          <Said>{two.label}</Said>
        </span>
        <span class="n">
          <b class="act">{words.two.title}</b> <Said>{two.sentence}</Said>
        </span>
      </span>
      <Caution caution={two.caution ?? null} />
    </a>
  ));

const reasonLink = (reason: Reason, shot: string, sheet: Sheet): string | undefined => {
  if (!reason.record) return undefined;
  const [kind = "", id = ""] = reason.record.split("/");
  const is_two = sheet.two_answers.some((two) => two.record === reason.record && two.field === reason.field);
  if (is_two) return link("two", [kind, id, reason.field]);
  return recordLink(reason.record, { field: reason.field, shot });
};

export function Why({ reasons, shot, sheet }: { reasons: Reason[]; shot: string; sheet: Sheet }) {
  if (!reasons.length) return null;
  const told = reasons.map(({ caution }) => caution?.sentence);
  return (
    <Fold title={words.shot.why} count={reasons.length}>
      {reasons.map((reason, place) => {
        const inside = (
          <>
            <span>
              <span class="t">
                <Said>{reason.sentence}</Said>
              </span>
              {reason.department && <span class="n">{departmentLabel(reason.department)}</span>}
            </span>
            {told.indexOf(told[place]) === place && <Caution caution={reason.caution ?? null} />}
          </>
        );
        const href = reasonLink(reason, shot, sheet);
        const key = `${reason.code} ${reason.record} ${reason.field} ${reason.department}`;
        return href ? (
          <a key={key} class="row plain" href={href}>
            {inside}
          </a>
        ) : (
          <div key={key} class="row plain">
            {inside}
          </div>
        );
      })}
    </Fold>
  );
}

function TabBody({ tab, found }: { tab: TabName; found: ShotNow }) {
  const { sheet, shot } = found;
  const { dressing, marks } = sheet.rows;
  const empty = words.shot.empty;
  if (tab === "light") return <LightTab sheet={sheet} shot={shot} found={found} />;
  if (tab === "rig") return <RigTab sheet={sheet} shot={shot} />;
  if (tab === "frame") return <FrameTab sheet={sheet} shot={shot} />;
  if (tab === "glasses") return <GlassesTab sheet={sheet} shot={shot} />;
  if (tab === "colour") return <ColourTab sheet={sheet} shot={shot} />;
  if (tab === "dressing")
    return <Things things={dressing} shot={shot} empty={empty.dressing} add="dressing" />;
  return (
    <>
      <Things things={[]} rows={marks} shot={shot} empty={empty.marks} add="mark" />
      <TapeBlock sheet={sheet} shot={shot} />
    </>
  );
}

/** The parts of a sheet whose numbers a tab shows. */
function numbersOf(tab: TabName, sheet: Sheet): unknown {
  const { rigs, glasses, dressing, marks } = sheet.rows;
  const shown_in: { [name in TabName]: unknown[] } = {
    light: [],
    rig: [sheet.rigging, sheet.power, sheet.kit, rigs],
    frame: [sheet.frame?.figures, sheet.setup],
    glasses: [sheet.drinks, glasses],
    colour: [],
    dressing: [dressing],
    marks: [marks, sheet.tape],
  };
  return shown_in[tab];
}

/** A shot that was just added, or on a phone that just joined: the rules have not come to it yet. */
const NotYet = ({ shot }: { shot: string }) => (
  <>
    <Head number={textOf(`shot/${shot}`, "number")} name={textOf(`shot/${shot}`, "title")} />
    <Empty sentence={words.day.not_computed} next={words.wait.working} />
  </>
);

function ChooseShot() {
  return (
    <>
      <NoShot title={words.nav.shot} />
      {shots_in_order.value.map(({ shot, sheet }) => (
        <a key={shot} class="row plain" href={link("shot", [shot])}>
          <Strip number={sheet.shot.number} name={sheet.shot.title} is_small />
        </a>
      ))}
    </>
  );
}

export function ShotScreen({ parts }: { parts: string[] }) {
  const shot = parts[0] || currentShot(place.value);
  const tab: TabName = TABS.find((name) => name === parts[1]) ?? "light";
  const found = shots_in_order.value.find((one) => one.shot === shot);
  const is_there = shot !== "" && record(`shot/${shot}`).value !== undefined;
  useInView(is_there ? `shot/${shot}` : "", is_there ? shot : "");
  const swipe = useSwipe<HTMLDivElement>((step) => {
    const next = TABS[TABS.indexOf(tab) + step];
    if (next) goInstead(link("shot", [shot, next]));
  });
  if (!found) return is_there ? <NotYet shot={shot} /> : <ChooseShot />;
  if (parts[1] === "what_if") return <WhatIf key={shot} found={found} />;
  const { sheet, readiness } = found;
  const phase = words.record.choice(sheet.shot.phase);
  const runs_the_shot = my_departments.value.some((name) => RUN_THE_SHOT.includes(name));
  const told = board.value?.rows.find((row) => row.shot === shot);
  return (
    <div ref={swipe} class="shot-screen">
      <Head
        number={sheet.shot.number}
        name={sheet.shot.title}
        lines={[phase, told?.word ?? (readiness.state === "ready" ? "" : readiness.word)]}
      />
      <Tabs
        name={words.shot.tabs_name}
        current={tab}
        tabs={TABS.map((key) => ({ key, word: words.shot.tabs[key], href: link("shot", [shot, key]) }))}
      />
      <Holds sheet={sheet} />
      <Twos sheet={sheet} />
      <Why reasons={readiness.reasons} shot={shot} sheet={sheet} />
      {my_departments.value.map((department) => (
        <OwnWordOf key={department} shot={shot} department={department} />
      ))}
      {runs_the_shot && <Phase shot={shot} />}
      {runs_the_shot && <BetweenShots found={found} />}
      <NotesOn record={`shot/${shot}`} />
      <TabBody tab={tab} found={found} />
      <Meanings key={tab} part={tab} of={numbersOf(tab, sheet)} />
      <FromShot shot={shot} tab={tab} />
      {!runs_the_shot && <Phase shot={shot} />}
      {!runs_the_shot && <BetweenShots found={found} />}
    </div>
  );
}
