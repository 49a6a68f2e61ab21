// One thing now, with nothing known but its kind: a lamp, a stand, a glass, a mark. The last tap adds it.
import { useEffect, useState } from "preact/hooks";
import { shots_in_order, textOf, titleOf } from "../../day_reads";
import { record, recordsOf, shown } from "../../day_signals";
import { fieldNamed } from "../../kinds_table";
import { Head, NotSaved } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { link, onward } from "../../routing";
import { words } from "../../words";
import { Choices } from "../record/chosen_entry";
import { NoShot } from "../shot/no_shot";
import { make, type TableRow, type Tables, tables } from "./making";

const w = words.build;
export type NowWhat = keyof typeof w.now;
const TABLE: { [what: string]: string } = { lamp: "lamps", stand: "stands", drink: "beverages" };
const TAB = { lamp: "light", stand: "rig", drink: "glasses", mark: "marks" };

/** For whom a mark may be laid: the faces and characters that the day knows already. */
const forWhom = (): TableRow[] =>
  [...recordsOf("performer").value, ...recordsOf("point").value].map((key) => ({
    id: key,
    name: titleOf(key),
  }));

/** The first role that no source of the shot has yet. */
function roleLeft(shot: string, roles: string[]): string {
  const taken = recordsOf("level").value.flatMap((key) => {
    const fields = record(key).value;
    return shown(fields?.shot) === shot ? [shown(fields?.role)] : [];
  });
  return roles.find((role) => !taken.includes(role)) ?? roles[0] ?? "";
}

export function NowScreen({ what, about }: { what: NowWhat; about: URLSearchParams }) {
  const shot = about.get("shot") ?? shots_in_order.value[0]?.shot ?? "";
  const [shipped, setShipped] = useState<Tables>({});
  const [found, setFound] = useState("");
  const [failed, setFailed] = useState("");
  const roles = what === "lamp" ? (fieldNamed("level", "role")?.choices ?? []) : w.colours;
  const [role, setRole] = useState(() => (what === "lamp" ? roleLeft(shot, roles) : (w.colours[0] ?? "")));
  useEffect(() => {
    tables().then(setShipped, () => setFailed(words.save.no_answer));
  }, []);
  // A glass is looked for by what it passes for; what is really in it stands below.
  const poured = (shipped.beverages ?? []).flatMap((row) =>
    (row.passes_for ?? []).map((word) => ({ ...row, passes_for: [word] })),
  );
  const all = what === "drink" ? poured : what === "mark" ? forWhom() : (shipped[TABLE[what] ?? ""] ?? []);
  const rows = all.filter(
    ({ kind, name, passes_for }) =>
      (what !== "stand" || kind === "stand") &&
      [...(passes_for ?? []), name].join(" ").toLowerCase().includes(found.toLowerCase()),
  );
  if (what === "mark" && found) rows.push({ id: "typed", name: found });
  if (!shot) return <NoShot title={w.now_title[what]} />;
  const add = async (row: TableRow) => {
    const goOn = onward();
    const { refused } = await make({ do: "now", what, shot, row, role }, row.name);
    setFailed(refused);
    if (!refused) goOn(link("shot", [shot, TAB[what]]));
  };
  return (
    <>
      <Head number={textOf(`shot/${shot}`, "number")} name={w.now_title[what]} />
      <p class="para sub">{w.now_more}</p>
      <NotSaved sentence={failed} />
      {(what === "lamp" || what === "mark") && (
        <div class="entry">
          <Choices
            label={what === "lamp" ? w.role : w.colour}
            options={roles.map((value) => ({ value, word: words.record.choice(value) }))}
            chosen={[role]}
            onChoose={([one]) => one && setRole(one)}
          />
        </div>
      )}
      <div class="entry">
        <label class="name" for="now-find">
          {w.find}
        </label>
        <input
          id="now-find"
          autocomplete="off"
          value={found}
          onInput={(event) => setFound(event.currentTarget.value)}
        />
      </div>
      {rows.map((row) => (
        <button
          key={`${row.id} ${row.passes_for}`}
          type="button"
          class="row plain"
          onClick={() => void add(row)}
        >
          <span>
            <span class="t">
              <Said>{row.passes_for?.[0] ?? row.name}</Said>
            </span>
            {row.passes_for && (
              <span class="n">
                <Said>{row.name}</Said>
              </span>
            )}
          </span>
        </button>
      ))}
    </>
  );
}
