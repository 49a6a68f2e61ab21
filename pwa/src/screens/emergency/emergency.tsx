// The emergency card: read in a hurry, from this phone, without signal. What nobody filled in is asked for, never guessed.
import { save } from "../../acting";
import { titleOf } from "../../day_reads";
import { cellMark, membership, record, recordsOf } from "../../day_signals";
import { useInView } from "../../in_view";
import { fieldNamed } from "../../kinds_table";
import { Fold, Head } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said } from "../../parts/said";
import { go, link, onward, recordLink } from "../../routing";
import { words } from "../../words";

const w = words.record_of_day.emergency;

/** In the order in which they are needed; `medic` only where somebody filled it in. */
export const CARD = [
  "emergency_number",
  "address",
  "nearest_hospital",
  "assembly_point",
  "first_aider",
  "medic",
  "who_decides",
];

export const dayKey = (): string => recordsOf("day").value[0] ?? `day/${membership.value?.day ?? ""}`;

/** All answers to a field of the day: two stand beside each other. */
export function answersOf(field: string): string[] {
  const cell = record(dayKey()).value?.[field];
  const live = cellMark(cell) >= 2 ? (cell?.[1] ?? []) : (cell?.[1] ?? []).slice(0, 1);
  const said = live.flatMap(([, value]) => (typeof value === "string" && value ? [value] : []));
  return [...new Set(said)];
}

const labelOf = (field: string): string => fieldNamed("day", field)?.label ?? field.replaceAll("_", " ");

export const cardRows = (): { field: string; label: string; said: string[] }[] =>
  CARD.map((field) => ({ field, label: labelOf(field), said: answersOf(field) })).filter(
    ({ field, said }) => field !== "medic" || said.length > 0,
  );

/** A new day may have no record of its own yet: it begins with its title. */
async function openDay(field: string): Promise<void> {
  const [, id = ""] = dayKey().split("/");
  const goOn = onward(go);
  if (!record(dayKey()).value)
    await save([{ kind: "day", record: id, set: { title: membership.value?.day_title ?? "" } }]);
  goOn(link("record", ["day", id], { field }));
}

const DIALLED = /^\+?[\d\s().-]{2,}$/;

export function EmergencyScreen() {
  useInView(dayKey());
  const incidents = recordsOf("incident").value;
  return (
    <>
      <Head number={w.title} name={membership.value?.day_title} />
      <p class="para">
        <b>{w.first}</b>
      </p>
      <div class="card">
        {cardRows().map(({ field, label, said }) =>
          said.length ? (
            <div key={field} class="row plain">
              <span>
                <span class="n">{label}</span>
                {said.length > 1 && <b class="act">{w.two}</b>}
                {said.map((one) => (
                  <span key={one} class="big">
                    <Said>{one}</Said>
                  </span>
                ))}
                {field === "emergency_number" && said[0] && DIALLED.test(said[0]) && (
                  <a class="btn solid" href={`tel:${said[0].replace(/[^\d+]/g, "")}`}>
                    {w.call(said[0])}
                  </a>
                )}
              </span>
            </div>
          ) : (
            <button key={field} type="button" class="row need" onClick={() => void openDay(field)}>
              <Mark name="unk" />
              <span>
                <span class="n">{label}</span>
                <b class="big">{w.none}</b>
                <span class="n">{w.fill}</span>
              </span>
            </button>
          ),
        )}
      </div>
      <div class="actions btns">
        <a class="btn" href={link("raise", ["incident"])}>
          {w.incident}
        </a>
        <button type="button" class="btn" onClick={() => void openDay("")}>
          {w.change}
        </button>
      </div>
      {incidents.length > 0 && (
        <Fold title={w.incidents} count={incidents.length}>
          {incidents.map((key) => (
            <a key={key} class="row plain" href={recordLink(key)}>
              <Said>{titleOf(key)}</Said>
            </a>
          ))}
        </Fold>
      )}
    </>
  );
}
