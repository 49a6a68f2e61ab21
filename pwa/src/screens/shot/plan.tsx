// The plan with its rows: what stands in the frame, where everything lies, and what nobody has placed yet.
import { titleOf } from "../../day_reads";
import { Empty, Fold } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { type Placed, planOf } from "../../plots/places";
import { PlanPlot } from "../../plots/plan";
import { link } from "../../routing";
import type { FrameOfShot } from "../../sheet_types_of_things";
import { words } from "../../words";

const w = words.sheet.plan;

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
  const is_nothing = plan.placed.length + plan.cameras.length === 0;
  return (
    <>
      {is_nothing ? (
        <Empty sentence={w.nothing} next={w.nothing_do} />
      ) : (
        <PlanPlot plan={plan} frame={frame} />
      )}
      {plan.placed.some(({ what }) => what === "frame") && <p class="para sub">{w.square}</p>}
      {plan.placed.length > 0 && (
        <Fold title={w.places} count={plan.placed.length}>
          {plan.placed.map((one) => (
            <PlaceRow key={one.record} one={one} shot={shot} />
          ))}
        </Fold>
      )}
      {plan.unplaced.length > 0 && (
        <Fold title={w.not_placed} count={plan.unplaced.length} is_open={is_nothing}>
          {plan.unplaced.map((one) => (
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
          ))}
        </Fold>
      )}
    </>
  );
}
