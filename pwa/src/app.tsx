// The app: joins the screens to the opened day. main.tsx starts the engine and renders this.
import { useEffect, useState } from "preact/hooks";
import { startAnnouncing } from "./announce";
import { useSlow } from "./asked";
import { followDay } from "./day_sheet";
import { membership } from "./day_signals";
import type { Opened } from "./engine/contract";
import { followKeys } from "./keys";
import { loadKinds } from "./kinds_table";
import { Empty, Progress } from "./parts/blocks";
import { MarkForms } from "./parts/mark";
import { Frame } from "./screens/frame/frame";
import { JoinScreen } from "./screens/join/join";
import { followUnseen } from "./seen";
import { words } from "./words";
import "../generated/faces.css";
import "./styles/tokens.css";
import "./styles/base.css";
import "./styles/parts.css";
import "./styles/forms.css";
import "./styles/screens.css";
import "./styles/plots.css";
import "./styles/sheet.css";
import "./styles/record.css";
import "./styles/board.css";
import "./styles/photographs.css";
import "./styles/wide.css";
import "./styles/print.css";

type Start = { opened: Opened | null; failed: string };
type Days = { day: string; day_title: string }[];

function useStart(opening: Promise<Opened>): Start {
  const [start, setStart] = useState<Start>({ opened: null, failed: "" });
  useEffect(() => {
    const failed = (error: unknown) => setStart({ opened: null, failed: String(error) });
    opening.then((opened) => {
      setStart({ opened, failed: "" });
      loadKinds().catch((error: unknown) => console.error("the rules gave no table of kinds", error));
      followDay();
      startAnnouncing();
      followUnseen();
      followKeys();
    }, failed);
  }, [opening]);
  return start;
}

/** Where the keyboard of a phone covers the page, the foot moves up by as much: the facts are never hidden. */
function followKeyboard(): void {
  const view = window.visualViewport;
  view?.addEventListener("resize", () => {
    const covered = Math.max(0, Math.round(innerHeight - view.height - view.offsetTop));
    document.documentElement.style.setProperty("--keyboard", `${covered}px`);
    document.documentElement.toggleAttribute("data-keyboard", covered > 150);
  });
}

/** `opening` is what startEngine() returned: the app paints as soon as the stored day is read. */
export function App({ opening }: { opening: Promise<Opened> }) {
  const { opened, failed } = useStart(opening);
  const is_slow = useSlow(!opened && !failed);
  useEffect(followKeyboard, []);
  const days: Days = opened?.state === "nothing" ? opened.days : [];
  const is_joined = membership.value !== null;
  return (
    <>
      <MarkForms />
      {failed && (
        <main class="page">
          <Empty sentence={words.error.start} next={failed} />
        </main>
      )}
      {!opened && !failed && <Progress sentence={words.wait.reading_day} is_slow={is_slow} />}
      {opened && is_joined && <Frame />}
      {opened && !is_joined && (
        <main class="page">
          <JoinScreen days={days} />
        </main>
      )}
    </>
  );
}
