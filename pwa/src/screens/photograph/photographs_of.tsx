// The photographs of a record as rows: a small picture, what it shows, who and when, and whether it is here.
import { ago } from "../../clock";
import { departmentsOf, textOf } from "../../day_reads";
import { record as recordSignal, recordsOf, shown } from "../../day_signals";
import { departmentLabel } from "../../kinds_table";
import { Said } from "../../parts/said";
import { recordLink } from "../../routing";
import { words } from "../../words";
import { usePicture } from "./use_picture";

const w = words.photograph;

export const photographsOf = (record: string): string[] =>
  recordsOf("photograph").value.filter((key) => shown(recordSignal(key).value?.of) === record);

/** Whoever took it and when: the edit that named the picture. */
export function takenBy(key: string): { department: string; at_ms: number } {
  const live = recordSignal(key).value?.digest?.[1][0];
  const [, , at_ms = 0, by = "", for_whom = ""] = live ?? [];
  return { department: departmentsOf(for_whom || by)[0] ?? "", at_ms };
}

function PhotographRow({ photograph }: { photograph: string }) {
  const digest = textOf(photograph, "digest");
  const says = textOf(photograph, "says");
  const seen = usePicture(digest, false);
  const { department, at_ms } = takenBy(photograph);
  const told = seen && !seen.is_sent && seen.state === "whole" ? w.unsent : "";
  return (
    <a class="row photo" href={recordLink(photograph)}>
      <span class="picture small">{seen?.url && <img src={seen.url} alt="" />}</span>
      <span>
        <span class="t">
          <Said>{says || w.title}</Said>
        </span>
        <span class="n">{words.join_words([departmentLabel(department), ago(at_ms), told])}</span>
        {seen && !seen.url && <span class="n">{w.state[seen.state]}</span>}
      </span>
    </a>
  );
}

export const PhotographsOf = ({ record }: { record: string }) =>
  photographsOf(record).map((key) => <PhotographRow key={key} photograph={key} />);
