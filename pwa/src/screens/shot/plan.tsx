// The plan with its rows: what stands in the frame, where everything lies, and what nobody has placed yet.
import { useEffect, useState } from "preact/hooks";
import { save } from "../../acting";
import { titleOf } from "../../day_reads";
import { record, shown } from "../../day_signals";
import type { Value } from "../../engine/contract";
import { Empty, Fold } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { type Placed, type Plan, planOf, type Spot } from "../../plots/places";
import { type Movable, PlanPlot } from "../../plots/plan";
import { link } from "../../routing";
import type { FrameOfShot } from "../../sheet_types_of_things";
import { words } from "../../words";

const w = words.sheet.plan;
const b = words.build;

/** Things that have a place, and the camera at both ends of its move. */
function movableOf(plan: Plan, shot: string): Movable[] {
  const things = plan.placed.map((one) => ({
    key: one.record,
    title: one.title,
    x_m: one.x_m,
    y_m: one.y_m,
  }));
  const setup = shown(record(`shot/${shot}`).value?.setup);
  const ends = plan.cameras.filter((camera) => camera.at !== "middle");
  const cameras = ends.map(({ at, x_m, y_m }) => {
    const is_end = ends.length > 1 && at === "end";
    return { key: `setup/${setup}${is_end ? "/end_" : ""}`, title: w.ats[at] ?? w.camera(""), x_m, y_m };
  });
  // Lamps last: of what lies on each other the lamp is taken hold of.
  const sorted = [...things].sort(
    (a, c) => Number(a.key.startsWith("source/")) - Number(c.key.startsWith("source/")),
  );
  return setup ? [...sorted, ...cameras] : sorted;
}

const written = (metres: number): Value => [String(metres), `${Math.round(metres * 100) / 100} m`];
const NEAR_M = 0.22; // a lamp and the stand under it

const belongs = (one: string, other: string): boolean =>
  `source/${shown(record(one).value?.source)}` === other ||
  `source/${shown(record(other).value?.source)}` === one;

/** One move, one tap back. A lamp and the stand under it go together. */
const moveTo = (movable: Movable[]) => (key: string, to: Spot) => {
  const moved = movable.find((one) => one.key === key);
  if (!moved) return;
  const [right, away] = [to.x_m - moved.x_m, to.y_m - moved.y_m];
  const along = movable.filter(
    (one) =>
      one.key === key ||
      (belongs(one.key, key) && Math.hypot(one.x_m - moved.x_m, one.y_m - moved.y_m) < NEAR_M),
  );
  const acts = along.map((one) => {
    const [kind = "", id = "", end = ""] = one.key.split("/");
    const [x_m, y_m] = [one.x_m + right, one.y_m + away].map((metres) => Math.round(metres * 1000) / 1000);
    return { kind, record: id, set: { [`${end}x_m`]: written(x_m ?? 0), [`${end}y_m`]: written(y_m ?? 0) } };
  });
  void save(acts, b.moved(moved.title));
};

/** Between all that has a place; in the origin while nothing has. */
function putInTheMiddle(plan: Plan, key: string, title: string): void {
  const spots = [...plan.placed, ...plan.cameras];
  const middle = (side: "x_m" | "y_m") =>
    Math.round((spots.reduce((sum, spot) => sum + spot[side], 0) / Math.max(1, spots.length)) * 10) / 10;
  moveTo([{ key, title, x_m: 0, y_m: 0 }])(key, { x_m: middle("x_m"), y_m: middle("y_m") });
}

const editPlace = (record: string, field: string, shot: string): string =>
  link("record", record.split("/"), { field, shot });

const PlaceRow = ({ one, shot }: { one: Placed; shot: string }) => (
  <a class="row plain" href={editPlace(one.record, "x_m", shot)}>
    <span>
      <span class="t">
        <Said>{one.title}</Said>
      </span>
      <span class="n">
        {w.kinds[one.what]} {w.place(one.written[0], one.written[1])}
      </span>
    </span>
  </a>
);

export function PlanBlock({
  scene,
  shot,
  frame,
}: {
  scene: string;
  shot: string;
  frame: FrameOfShot | undefined;
}) {
  const plan = planOf(scene, shot, frame);
  const [is_moving, setMoving] = useState(false);
  const movable = is_moving ? movableOf(plan, shot) : [];
  const is_nothing = plan.placed.length + plan.cameras.length === 0;
  // What was just put on the plan is what the arrow keys move next.
  const [put, setPut] = useState("");
  useEffect(() => {
    const one = document.querySelector<SVGElement>(`[data-grab="${put}"]`);
    if (!one) return;
    one.focus();
    setPut("");
  });
  return (
    <>
      {is_nothing ? (
        <Empty sentence={w.nothing} next={w.nothing_do} />
      ) : (
        <PlanPlot
          plan={plan}
          frame={frame}
          moves={is_moving ? { movable, onMove: moveTo(movable) } : undefined}
        />
      )}
      <div class="actions">
        <button type="button" class="btn" aria-pressed={is_moving} onClick={() => setMoving(!is_moving)}>
          {is_moving ? b.move_stop : b.move}
        </button>
        {is_moving && <p class="sub">{b.move_more}</p>}
      </div>
      {plan.placed.some(({ what }) => what === "frame") && <p class="para sub">{w.square}</p>}
      {plan.placed.length > 0 && (
        <Fold title={w.places} count={plan.placed.length}>
          {plan.placed.map((one) => (
            <PlaceRow key={one.record} one={one} shot={shot} />
          ))}
        </Fold>
      )}
      {plan.unplaced.length > 0 && (
        <Fold
          key={String(is_moving)}
          title={w.not_placed}
          count={plan.unplaced.length}
          is_open={is_nothing || is_moving}
        >
          {plan.unplaced.map((one) =>
            is_moving ? (
              <button
                key={one.record}
                type="button"
                class="row plain"
                onClick={() => {
                  setPut(one.record);
                  putInTheMiddle(plan, one.record, one.title);
                }}
              >
                <span>
                  <span class="t">
                    <Said>{titleOf(one.record)}</Said>
                  </span>
                  <span class="n">{b.place_middle}</span>
                </span>
              </button>
            ) : (
              <a key={one.record} class="row plain" href={editPlace(one.record, one.field, shot)}>
                <span>
                  <span class="t">
                    <Said>{titleOf(one.record)}</Said>
                  </span>
                  <span class="n">
                    {w.kinds[one.what]}. {words.sheet.fill_in}
                  </span>
                </span>
              </a>
            ),
          )}
        </Fold>
      )}
    </>
  );
}
