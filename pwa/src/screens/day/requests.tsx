// Who waits for whom, on the day: what is asked of this person's departments, and everything else.
import { my_departments } from "../../day_reads";
import { day_sheet } from "../../day_sheet";
import { Fold } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said } from "../../parts/said";
import { recordLink } from "../../routing";
import type { CrewRequest } from "../../sheet_types";
import { words } from "../../words";
import { requestLine } from "../frame/asks";

export const RequestRow = ({ request }: { request: CrewRequest }) => (
  <a class={request.answer === "asked" ? "row need" : "row"} href={recordLink(request.record)}>
    <Mark name="req" />
    <span>
      <span class="t">
        <Said>{request.ask}</Said>
      </span>
      <span class="n">
        {requestLine(request)}. <b>{words.request.answers[request.answer]}</b>
        {request.must === "nice" && `, ${words.request.nice}`}
      </span>
    </span>
  </a>
);

export function Requests() {
  const all = day_sheet.value?.requests ?? [];
  const mine = all.filter((request) => my_departments.value.includes(request.to));
  const others = all.filter((request) => !mine.includes(request));
  return (
    <>
      {mine.length > 0 && (
        <Fold title={words.day.asked} count={mine.length}>
          {mine.map((request) => (
            <RequestRow key={request.record} request={request} />
          ))}
        </Fold>
      )}
      {others.length > 0 && (
        <Fold title={words.day.waiting_fold} count={others.length}>
          {others.map((request) => (
            <RequestRow key={request.record} request={request} />
          ))}
        </Fold>
      )}
    </>
  );
}
