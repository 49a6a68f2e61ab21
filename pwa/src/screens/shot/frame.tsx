// Frame: the set from above, what stands in the picture or in the camera's way, the lens's figures, reflections, even light.
import { record, shown } from "../../day_signals";
import { Caution, Empty, Fold } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said, unbroken } from "../../parts/said";
import { link, recordLink } from "../../routing";
import type { Sheet } from "../../sheet_types";
import type { FramedThing, FrameOfShot } from "../../sheet_types_of_things";
import { words } from "../../words";
import { FigureRows, MissingRows } from "./figure_rows";
import { PlanBlock } from "./plan";
import { FactRow } from "./things";

const w = words.sheet.frame;

/** Out of place in the picture needs a hand; meant to be seen does not. */
const FramedRow = ({ one, shot }: { one: FramedThing; shot: string }) => {
  const is_in = one.state === "in" || one.state === "edge";
  return (
    <a class={is_in && !one.wanted ? "row plain need" : "row plain"} href={recordLink(one.record, { shot })}>
      <span>
        <span class="t">
          <Said>{one.title}</Said>
        </span>
        <span class="n">
          {one.state === "unknown" && <Mark name="unk" is_small />}
          <b class={is_in && !one.wanted ? "act" : undefined}>{one.word}</b>
          {one.wanted && `, ${w.wanted}`}
        </span>
      </span>
      <span class="word sub">{words.sheet.plan.kinds[one.what]}</span>
    </a>
  );
};

function InThePicture({ frame, shot }: { frame: FrameOfShot; shot: string }) {
  const of = (...states: FramedThing["state"][]) =>
    frame.things.filter(({ state }) => states.includes(state));
  const seen = of("in", "edge").sort((a, b) => Number(a.wanted) - Number(b.wanted));
  const unknown = of("unknown");
  const clear = of("out");
  const rows = (things: FramedThing[]) =>
    things.map((one) => <FramedRow key={one.record} one={one} shot={shot} />);
  return (
    <>
      {seen.length > 0 && <h2>{w.in_frame}</h2>}
      {rows(seen)}
      {unknown.length > 0 && (
        <Fold title={w.unknown} count={unknown.length}>
          {rows(unknown)}
        </Fold>
      )}
      {clear.length > 0 && (
        <Fold title={w.clear} count={clear.length}>
          {rows(clear)}
        </Fold>
      )}
    </>
  );
}

function CameraPath({ path, shot }: { path: FrameOfShot["path"]; shot: string }) {
  if (!path || (path.in_the_way.length === 0 && !path.moves)) return null;
  return (
    <>
      <h2>{w.in_the_way}</h2>
      {path.in_the_way.map((one) => (
        <a key={one.record} class="row plain need" href={recordLink(one.record, { shot })}>
          <span class="t">
            <Said>{unbroken(one.sentence)}</Said>
          </span>
        </a>
      ))}
      {path.in_the_way.length === 0 && <p class="para sub">{w.nothing_in_the_way}</p>}
      <p class="para">
        <Caution caution={path.caution} />
      </p>
    </>
  );
}

function Glass({ frame, shot }: { frame: FrameOfShot; shot: string }) {
  if (frame.glass.length + frame.glass_missing.length === 0) return null;
  return (
    <>
      <h2>{w.glass}</h2>
      {frame.glass.map((one) => (
        <a
          key={`${one.record} ${one.source} ${one.at}`}
          class="row plain need"
          href={recordLink(one.record, { shot })}
        >
          <span>
            <span class="t">
              <Said>{unbroken(one.sentence)}</Said>
            </span>
            <span class="n">
              <Said>{one.title}</Said>
            </span>
          </span>
        </a>
      ))}
      <MissingRows missing={frame.glass_missing} shot={shot} />
    </>
  );
}

/** One row a fact, though several places of the frame ask for it. */
const once = <T extends { record: string; field: string }>(all: T[]): T[] =>
  all.filter(
    (one, place) =>
      all.findIndex(({ record, field }) => record === one.record && field === one.field) === place,
  );

export function FrameTab({ sheet, shot }: { sheet: Sheet; shot: string }) {
  const fields = record(sheet.shot.record).value;
  const setup = shown(fields?.setup);
  const scene = shown(fields?.scene);
  const { frame } = sheet;
  return (
    <>
      <h2>{words.sheet.plan.title}</h2>
      <PlanBlock scene={typeof scene === "string" ? scene : ""} shot={shot} frame={frame} />
      {frame && frame.missing.length > 0 && <h2>{w.place_camera}</h2>}
      {frame && <MissingRows missing={once(frame.missing)} shot={shot} />}
      {frame && <InThePicture frame={frame} shot={shot} />}
      {frame && <CameraPath path={frame.path} shot={shot} />}
      {frame && <h2>{w.figures}</h2>}
      {frame && <FigureRows figures={frame.figures} shot={shot} />}
      {frame && <Glass frame={frame} shot={shot} />}
      <h2>{w.setup}</h2>
      {sheet.setup.map((fact) => (
        <FactRow key={`${fact.record}/${fact.field}`} fact={fact} record={sheet.shot.record} shot={shot} />
      ))}
      {sheet.setup.length === 0 && <Empty sentence={words.shot.empty.frame} />}
      <div class="actions btns">
        <a class="btn" href={link("record", ["shot", shot])}>
          {words.shot.edit_shot}
        </a>
        {typeof setup === "string" ? (
          <a class="btn" href={link("record", ["setup", setup], { shot })}>
            {words.shot.edit_setup}
          </a>
        ) : (
          <a class="btn" href={link("add", ["setup"], { shot })}>
            {words.record.add_kind.setup}
          </a>
        )}
      </div>
    </>
  );
}
