// Every screen stands in this frame: what must be known on top, the screen, the foot; on a laptop what waits beside it.
import { Component, type ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { spoken } from "../../announce";
import { is_rolling } from "../../day_reads";
import { Empty } from "../../parts/blocks";
import { link, type Place, place } from "../../routing";
import { words } from "../../words";
import { BoardScreen } from "../board/board";
import { BringScreen } from "../bring/bring";
import { NowScreen, type NowWhat } from "../build/now";
import { DayScreen } from "../day/day";
import { EmergencyScreen } from "../emergency/emergency";
import { FeedScreen } from "../feed/feed";
import { MeaningScreen } from "../help/meanings";
import { HistoryScreen } from "../history/history";
import { HoldScreen } from "../hold/hold";
import { RequestScreen } from "../hold/request";
import { KitScreen } from "../kit/kit";
import { ListScreen } from "../list/list";
import { PaperScreen } from "../paper/paper";
import { PhoneScreen } from "../phone/phone";
import { PhotographScreen } from "../photograph/photograph";
import { PrintScreen } from "../print/print";
import { RaiseScreen } from "../raise/raise";
import { AddScreen } from "../record/add";
import { RecordScreen } from "../record/record";
import { ReferenceScreen } from "../reference/reference";
import { SearchScreen } from "../search/search";
import { SetScreen } from "../set/set";
import { ShotScreen } from "../shot/shot";
import { StartScreen } from "../start/start";
import { TourScreen } from "../tour/tour";
import { TurnScreen } from "../turn/turn";
import { TwoScreen } from "../two/two";
import { Beside, useWide } from "./beside";
import { BottomOfScreen } from "./foot";

function ScreenAt({ screen, parts, about }: Place) {
  if (screen === "shot") return <ShotScreen parts={parts} />;
  if (screen === "board") return <BoardScreen />;
  if (screen === "list") return <ListScreen parts={parts} about={about} />;
  if (screen === "set") return <SetScreen />;
  if (screen === "raise") return <RaiseScreen parts={parts} about={about} />;
  if (screen === "record") return <RecordScreen parts={parts} about={about} />;
  if (screen === "add") return <AddScreen parts={parts} about={about} />;
  if (screen === "start") return <StartScreen about={about} />;
  if (screen === "now") return <NowScreen what={(parts[0] || "lamp") as NowWhat} about={about} />;
  if (screen === "two") return <TwoScreen parts={parts} />;
  if (screen === "history") return <HistoryScreen parts={parts} />;
  if (screen === "hold") return <HoldScreen id={parts[0] ?? ""} />;
  if (screen === "meaning") return <MeaningScreen label={parts[0] ?? ""} />;
  if (screen === "tour") return <TourScreen parts={parts} />;
  if (screen === "photograph") return <PhotographScreen id={parts[0] ?? ""} />;
  if (screen === "request") return <RequestScreen id={parts[0] ?? ""} />;
  if (screen === "feed") return <FeedScreen />;
  if (screen === "search") return <SearchScreen />;
  if (screen === "kit") return <KitScreen parts={parts} />;
  if (screen === "bring") return <BringScreen parts={parts} />;
  if (screen === "paper") return <PaperScreen parts={parts} />;
  if (screen === "reference") return <ReferenceScreen parts={parts} />;
  if (screen === "print") return <PrintScreen parts={parts} />;
  if (screen === "turn") return <TurnScreen parts={parts} />;
  if (screen === "emergency") return <EmergencyScreen />;
  if (screen === "phone") return <PhoneScreen />;
  return <DayScreen />;
}

/** A screen that breaks takes nothing else with it: the foot stays, and so does what was saved. */
class Whole extends Component<{ children: ComponentChildren }, { broke: string }> {
  override state = { broke: "" };
  override componentDidCatch(error: unknown) {
    console.error(error);
    this.setState({ broke: String(error) });
  }
  override render() {
    if (!this.state.broke) return this.props.children;
    return (
      <Empty sentence={`${words.error.title} ${this.state.broke}`} next={words.error.more}>
        <a class="btn" href={link("day")}>
          {words.empty.day}
        </a>
      </Empty>
    );
  }
}

/** The part of the address that makes another screen: a tab of the same shot is the same screen. */
const whichScreen = ({ screen, parts }: Place): string =>
  screen === "shot" ? `shot/${parts[0] ?? ""}` : [screen, ...parts].join("/");

export function Frame() {
  const at = place.value;
  const which = whichScreen(at);
  const page = useRef<HTMLElement>(null);
  const is_wide = useWide();
  const is_first = useRef(true);
  useEffect(() => {
    if (is_first.current) {
      is_first.current = false;
      return;
    }
    scrollTo(0, 0);
    // A form that put the cursor where it belongs keeps it.
    if (!page.current?.contains(document.activeElement)) page.current?.focus({ preventScroll: true });
  }, [which]);
  useEffect(() => {
    document.documentElement.toggleAttribute("data-rolling", is_rolling.value);
  }, [is_rolling.value]);
  // On a laptop the words stand on top, and the keyboard comes to them first.
  const foot = <BottomOfScreen key="foot" place={at} />;
  return (
    <div class="frame">
      {is_wide && foot}
      <main class="page" ref={page} tabIndex={-1} data-screen={[at.screen, ...at.parts].join("/")}>
        <Whole key={which}>
          <ScreenAt {...at} />
        </Whole>
      </main>
      {is_wide ? <Beside /> : foot}
      <div class="unseen" aria-live="polite" aria-atomic="true">
        {spoken.value}
      </div>
    </div>
  );
}
