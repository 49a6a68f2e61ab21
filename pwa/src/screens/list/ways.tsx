// Ticking in another way than for oneself: a mode that stays visible at the bottom until it is stopped.
import { useState } from "preact/hooks";
import { tick_mode } from "../../acting";
import { personName, textOf } from "../../day_reads";
import { membership, recordsOf } from "../../day_signals";
import { Fold } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { words } from "../../words";

function Way({ title, more, onClick }: { title: string; more: string; onClick: () => void }) {
  return (
    <button type="button" class="row plain" onClick={onClick}>
      <span>
        <span class="t">{title}</span>
        <span class="n">{more}</span>
      </span>
    </button>
  );
}

export function WaysToTick() {
  const [is_choosing, setChoosing] = useState(false);
  const w = words.tick;
  const people = recordsOf("person").value.map((key) => key.slice("person/".length));
  const others = people.filter((id) => id !== membership.value?.person && personName(id));
  const set = (change: Partial<typeof tick_mode.value>) => {
    tick_mode.value = { ...tick_mode.value, ...change };
  };
  return (
    <Fold title={w.ways}>
      <Way title={w.way_someone} more={w.way_someone_more} onClick={() => setChoosing(!is_choosing)} />
      {is_choosing && others.length === 0 && <p class="para sub">{w.no_people}</p>}
      {is_choosing &&
        others.map((id) => (
          <button
            key={id}
            type="button"
            class="row plain"
            onClick={() => {
              set({ for_whom: id, opens: false });
              setChoosing(false);
            }}
          >
            <span>
              <span class="t">
                <Said>{personName(id)}</Said>
              </span>
              <span class="n">
                <Said>{textOf(`person/${id}`, "role")}</Said>
              </span>
            </span>
          </button>
        ))}
      <Way title={w.way_paper} more={w.way_paper_more} onClick={() => set({ how: "paper", opens: false })} />
      <Way title={w.way_open} more={w.way_open_more} onClick={() => set({ opens: true })} />
    </Fold>
  );
}
