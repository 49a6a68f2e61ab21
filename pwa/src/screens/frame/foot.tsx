// The foot of every screen: the dock, the mode that must stay visible, the three facts, the five words.
import { tick_mode, usual_ticks } from "../../acting";
import { age, now, timeOfDay } from "../../clock";
import { my_departments, personName, shots_in_order } from "../../day_reads";
import { board } from "../../day_sheet";
import { facts } from "../../day_signals";
import type { Notice } from "../../engine/contract";
import { FactsLine, FiveWords } from "../../parts/bottom_line";
import { Dock } from "../../parts/dock";
import { Said } from "../../parts/said";
import { pictures_now } from "../../pictures_now";
import { nextMode } from "../../preferences";
import { isMain, link, type Place } from "../../routing";
import { useQuiet } from "../../touch";
import { words } from "../../words";
import { nextAsk, quietAsk, screen_ask } from "./asks";

/** For whom the board stands in the foot; everyone else opens it from Day. */
const RUN_THE_DAY = ["assistant_directors", "production"];
let last_shot = "";

/** The shot that the word Shot opens: the one last looked at, or the next that is not done. */
export function currentShot(place: Place): string {
  if (place.screen === "shot" && place.parts[0]) last_shot = place.parts[0];
  const open = shots_in_order.value.find(({ readiness }) => readiness.state !== "done");
  return last_shot || (open ?? shots_in_order.value[0])?.shot || "";
}

function ModeBar() {
  const mode = tick_mode.value;
  if (!mode.for_whom && !mode.how && !mode.opens) return null;
  const paper = mode.how === "paper";
  const said = mode.opens
    ? words.tick.opens
    : mode.for_whom
      ? words.join_words([words.tick.for_whom(personName(mode.for_whom)), paper ? words.tick.from_paper : ""])
      : words.tick.ticking_paper;
  return (
    <div class="mode-bar">
      <span>
        <Said>{said}</Said>
      </span>
      <button type="button" class="btn narrow" onClick={usual_ticks}>
        {words.tick.stop}
      </button>
    </div>
  );
}

const NOT_KEPT = ["nothing_kept", "not_saved", "storage_lost"];
/** Said by the facts already: without signal is how a set usually is. */
const NO_NEWS = ["not_reached"];
const NOTHING: Notice[] = [];

/** What the person must know until it is over. It grows upwards over the page, so no row and no button moves. */
function Notices() {
  const all = useQuiet(facts.value?.notices ?? NOTHING);
  const notices = all.filter(({ code }) => !NO_NEWS.includes(code));
  return (
    <div class="notices" role="status">
      {notices.map(({ code, sentence }) => (
        <a key={code} class="notice" href={link("phone")}>
          <span class={NOT_KEPT.includes(code) ? "hold" : undefined}>
            <b>{sentence}</b>
          </span>
        </a>
      ))}
    </div>
  );
}

export function BottomOfScreen({ place }: { place: Place }) {
  const known = facts.value;
  const heard = known?.heard_ms ?? null;
  // How long is old is a rule of the day; until the rules have said it, the age stands there.
  const is_old = heard !== null && now.value - heard > (board.value?.old_ms ?? 0);
  const shot = currentShot(place);
  const goes_back = !isMain(place);
  const where = [place.screen, ...place.parts].join("/");
  const ask = quietAsk(where, goes_back) ?? screen_ask.value ?? nextAsk(place.screen === "shot" ? shot : "");
  const w = words.nav;
  return (
    <footer class="foot">
      <Notices />
      <ModeBar />
      <Dock key={where} ask={ask} />
      <FactsLine
        unsent={known ? known.unsent + pictures_now.value.unsent : null}
        heard={heard === null ? "" : timeOfDay(heard)}
        heard_age={is_old ? age(heard) : ""}
        kept={known?.kept ?? null}
        href={link("phone")}
        onLongPress={nextMode}
      />
      <FiveWords
        current={place.screen}
        items={[
          { key: "day", word: w.day, href: link("day") },
          { key: "shot", word: w.shot, href: link("shot", shot ? [shot] : []) },
          { key: "list", word: w.list, href: link("list") },
          { key: "set", word: w.set, href: link("set") },
          ...(my_departments.value.some((name) => RUN_THE_DAY.includes(name))
            ? [{ key: "board", word: w.board, href: link("board") }]
            : []),
          { key: "raise", word: w.raise, href: link("raise") },
          { key: "emergency", word: words.record_of_day.emergency.word, href: link("emergency") },
        ]}
      />
    </footer>
  );
}
