// Paper: from this phone through the browser, without signal; or the whole day as the server prints it.
import { useState } from "preact/hooks";
import { useSlow } from "../../asked";
import { now, timeOfDay } from "../../clock";
import { shots_in_order } from "../../day_reads";
import { facts, membership } from "../../day_signals";
import { printed } from "../../engine/client";
import { useInView } from "../../in_view";
import { Head, Progress, Refusal } from "../../parts/blocks";
import { useGoing, Waiting } from "../../parts/slow";
import { words } from "../../words";
import { Choices, Chooser } from "../record/chosen_entry";
import { shotOptions } from "../turn/turn";
import { PaperCard, PaperChecklist, PaperSheet } from "./on_paper";
import { PaperReport, PaperTurns, useReport, useTurns } from "./report";

const w = words.record_of_day.print;
const WHAT = ["sheet", "checklist", "call", "turn", "day"] as const;

function FromServer() {
  const [pdf, setPdf] = useState({ address: "", name: "" });
  const [refused, setRefused] = useState("");
  const { is_going, failed, run } = useGoing();
  const fetchIt = (what: "pack" | "report") =>
    run(async () => {
      setRefused("");
      const answer = await printed(what);
      if ("refused" in answer) return setRefused(w.failed(answer.refused));
      if (pdf.address) URL.revokeObjectURL(pdf.address);
      const name = `${membership.value?.day_title ?? "day"} ${what}.pdf`;
      setPdf({ address: URL.createObjectURL(answer.pdf), name });
    });
  return (
    <div class="line">
      <b>{w.server}</b>
      <span class="n">{w.server_more}</span>
      <div class="btns">
        <button type="button" class="btn" disabled={is_going} onClick={() => void fetchIt("pack")}>
          {w.pack}
        </button>
        <button type="button" class="btn" disabled={is_going} onClick={() => void fetchIt("report")}>
          {w.report}
        </button>
        {pdf.address && (
          <a class="btn solid" href={pdf.address} download={pdf.name}>
            {w.open}: {pdf.name}
          </a>
        )}
      </div>
      <Waiting sentence={w.fetching} is_going={is_going} />
      <Refusal sentence={refused || failed} />
    </div>
  );
}

export function PrintScreen({ parts }: { parts: string[] }) {
  const [what, setWhat] = useState<string[]>(["sheet", "checklist", "call"]);
  const [shot, setShot] = useState(parts[0] ?? "");
  const [failed, setFailed] = useState("");
  useInView("");
  const open = shots_in_order.value.filter(({ readiness }) => readiness.state !== "done");
  const one = shots_in_order.value.find((each) => each.shot === shot);
  const shots = one ? [one] : open;
  const report = useReport(what.includes("day"));
  const turns = useTurns(what.includes("turn"), shots_in_order.value);
  const made = [what.includes("day") ? report : null, what.includes("turn") ? turns : null];
  // A shot that is still being worked out would be missing from the paper.
  const is_made = !facts.value?.computing && made.every((each) => !each || each.is_current);
  const is_slow = useSlow(!is_made);
  const print = () => {
    setFailed("");
    try {
      window.print();
    } catch (error) {
      setFailed(w.failed(String(error)));
    }
  };
  return (
    <>
      <Head number={w.title} />
      <p class="para sub">{w.lead}</p>
      <div class="entry">
        <Choices
          label={w.what}
          is_many
          options={WHAT.map((value) => ({ value, word: w[value] }))}
          chosen={what}
          onChoose={setWhat}
        />
      </div>
      <div class="entry">
        <label class="name" for="print-shot">
          {w.shots}
        </label>
        <Chooser id="print-shot" options={shotOptions()} chosen={shot} nothing={w.all} onChoose={setShot} />
      </div>
      <div class="actions">
        <div class="btns">
          <button type="button" class="btn solid" disabled={!what.length || !is_made} onClick={print}>
            {w.do}
          </button>
        </div>
        <Progress sentence={words.wait.working} is_slow={is_slow} />
        <Refusal sentence={made.map((each) => each?.refusal).find(Boolean) || failed} />
      </div>
      <FromServer />
      <div class="on-paper" aria-hidden="true">
        {what.includes("call") && <PaperCard />}
        {(what.includes("sheet") || what.includes("checklist") ? shots : []).map((each) => (
          <div key={each.shot}>
            {what.includes("sheet") && <PaperSheet found={each} />}
            {what.includes("checklist") && <PaperChecklist found={each} />}
          </div>
        ))}
        {what.includes("turn") && turns.answer && <PaperTurns turns={turns.answer} />}
        {what.includes("day") && report.answer && <PaperReport report={report.answer} />}
        <p class="printed">{w.printed(timeOfDay(now.value))}</p>
      </div>
    </>
  );
}
