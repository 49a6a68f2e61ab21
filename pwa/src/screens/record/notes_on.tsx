// The notes that people left on a record or a shot, newest first, each a way to its own page.
import { Fragment } from "preact";
import { ago } from "../../clock";
import { departmentsOf } from "../../day_reads";
import { record as recordSignal, recordsOf, shown } from "../../day_signals";
import { departmentLabel } from "../../kinds_table";
import { Fold } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { recordLink } from "../../routing";
import { words } from "../../words";
import { PhotographsOf } from "../photograph/photographs_of";

type Note = { key: string; text: string; at_ms: number; department: string };

function notesOn(record: string): Note[] {
  const found = recordsOf("note").value.flatMap((key): Note[] => {
    const fields = recordSignal(key).value;
    const is_here = shown(fields?.on) === record || `shot/${shown(fields?.shot)}` === record;
    const live = fields?.text?.[1][0];
    if (!is_here || !live) return [];
    const [, text, at_ms, by, for_whom] = live;
    return [{ key, text: String(text ?? ""), at_ms, department: departmentsOf(for_whom || by)[0] ?? "" }];
  });
  return found.sort((a, b) => b.at_ms - a.at_ms);
}

export function NotesOn({ record }: { record: string }) {
  const notes = notesOn(record);
  if (!notes.length) return null;
  return (
    <Fold title={words.record.notes} count={notes.length}>
      {notes.map(({ key, text, at_ms, department }) => (
        <Fragment key={key}>
          <a class="row plain" href={recordLink(key)}>
            <span>
              <span class="t">
                <Said>{text}</Said>
              </span>
              <span class="n">{words.join_words([departmentLabel(department), ago(at_ms)])}</span>
            </span>
          </a>
          <PhotographsOf record={key} />
        </Fragment>
      ))}
    </Fold>
  );
}
