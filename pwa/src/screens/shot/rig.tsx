// Rig: what there is to do, then what stands and hangs with its margins, then power. A sum never says that something holds.
import { Empty, Fold } from "../../parts/blocks";
import { FactLine } from "../../parts/figures";
import { Strip } from "../../parts/said";
import { link, recordLink } from "../../routing";
import type { Sheet, Thing } from "../../sheet_types";
import type { FiguresOf, Load } from "../../sheet_types_of_things";
import { words } from "../../words";
import { CautionOf, FigureRows, MissingRow } from "./figure_rows";
import { FoldedRows, RowsOf } from "./folded";
import { FactRow } from "./things";

const w = words.sheet.rig;

type HeadProps = { record: string; title: string; shot: string; cut: number; is_top?: boolean };

/** The strip of a thing: a tap opens its record. `is_top`: no heading stands above it. */
export const ThingHead = ({ record, title, shot, cut, is_top }: HeadProps) => {
  const strip = <Strip number={title} is_small cut={cut} />;
  return (
    <a class="thing" href={recordLink(record, { shot })}>
      {is_top ? <h2>{strip}</h2> : <h3>{strip}</h3>}
      <span class="go-on">{words.record.edit}</span>
    </a>
  );
};

/** What is written of a thing, folded: the worked-out figures come first. */
function Written({ thing, shot }: { thing: Thing | undefined; shot: string }) {
  if (!thing?.facts.length) return null;
  return (
    <Fold title={words.shot.more_facts} count={thing.facts.length}>
      {thing.facts.map((fact) => (
        <FactRow key={`${fact.record ?? ""}/${fact.field}`} fact={fact} record={thing.record} shot={shot} />
      ))}
    </Fold>
  );
}

function Rigged({
  of,
  thing,
  shot,
  cut,
}: {
  of: FiguresOf;
  thing: Thing | undefined;
  shot: string;
  cut: number;
}) {
  return (
    <section>
      <ThingHead record={of.record} title={of.title} shot={shot} cut={cut} />
      <RowsOf rows={thing?.rows ?? []} />
      <FigureRows figures={of.figures} shot={shot} />
      <CautionOf
        caution={of.caution ?? thing?.caution ?? null}
        said={[...of.figures, ...(thing?.rows ?? [])]}
      />
      <Written thing={thing} shot={shot} />
    </section>
  );
}

const Loads = ({ loads, shot }: { loads: Load[]; shot: string }) => (
  <Fold title={w.loads} count={loads.length}>
    {loads.map((load) => (
      <a key={load.record} class="row plain" href={recordLink(load.record, { shot })}>
        <FactLine label={load.title} more={load.burning ? w.burning : w.off} shown={load.shown} />
      </a>
    ))}
  </Fold>
);

/** Rigs that were worked out, in the sheet's order, then those of which there are only facts. */
function together(worked: FiguresOf[], things: Thing[]): { of: FiguresOf; thing: Thing | undefined }[] {
  const known = new Map(things.map((thing) => [thing.record, thing]));
  const seen = new Set(worked.map(({ record }) => record));
  const others = things.filter(({ record }) => !seen.has(record));
  return [
    ...worked.map((of) => ({ of, thing: known.get(of.record) })),
    ...others.map((thing) => ({
      of: { record: thing.record, title: thing.title, figures: [], caution: thing.caution },
      thing,
    })),
  ];
}

export function RigTab({ sheet, shot }: { sheet: Sheet; shot: string }) {
  const { tasks, rigs, circuits } = sheet.rows;
  const { circuits: powered = [], batteries = [], nowhere = [] } = sheet.power ?? {};
  const kit = sheet.kit ?? [];
  const stands = together(sheet.rigging ?? [], rigs);
  const supplies = together(powered, circuits ?? []);
  const loadsOf = (record: string): Load[] => powered.find((one) => one.record === record)?.loads ?? [];
  const is_empty =
    tasks.length + stands.length + supplies.length + batteries.length + nowhere.length + kit.length === 0;
  return (
    <>
      {tasks.length > 0 && <h2>{w.work}</h2>}
      <FoldedRows rows={tasks} />
      {stands.length > 0 && <h2>{w.rigging}</h2>}
      {stands.map(({ of, thing }, place) => (
        <Rigged key={of.record} of={of} thing={thing} shot={shot} cut={place} />
      ))}
      {supplies.length + nowhere.length > 0 && <h2>{w.power}</h2>}
      {nowhere.map((one) => (
        <MissingRow key={one.record} one={one} shot={shot} />
      ))}
      {supplies.map(({ of, thing }, place) => (
        <div key={of.record}>
          <Rigged of={of} thing={thing} shot={shot} cut={place} />
          {loadsOf(of.record).length > 0 && <Loads loads={loadsOf(of.record)} shot={shot} />}
        </div>
      ))}
      {batteries.length > 0 && <h2>{w.batteries}</h2>}
      {batteries.map((of, place) => (
        <Rigged key={of.record} of={of} thing={undefined} shot={shot} cut={place} />
      ))}
      {kit.length > 0 && <h2>{words.bring.kit.of_shot}</h2>}
      {kit.map((of, place) => (
        <Rigged key={of.record} of={of} thing={undefined} shot={shot} cut={place} />
      ))}
      {is_empty && <Empty sentence={words.shot.empty.rig} />}
      <div class="actions btns">
        <a class="btn" href={link("add", ["booking"], { shot })}>
          {words.bring.kit.of_shot}
        </a>
        <a class="btn" href={link("add", ["task"], { shot })}>
          {words.record.add_kind.task}
        </a>
      </div>
    </>
  );
}

/** Marks to lay, then the tape they and the other jobs take, in rolls. */
export function TapeBlock({ sheet, shot }: { sheet: Sheet; shot: string }) {
  const { jobs = [], rolls = [] } = sheet.tape ?? {};
  if (jobs.length + rolls.length === 0) return null;
  return (
    <>
      <h2>{words.sheet.marks.tape}</h2>
      {rolls.map(({ record, title, figure }) => (
        <FigureRows key={record || title} figures={[{ ...figure, label: title }]} shot={shot} />
      ))}
      {jobs.map((job, place) => (
        <section key={job.record}>
          <ThingHead record={job.record} title={job.title} shot={shot} cut={place} />
          <FigureRows figures={job.figures} shot={shot} />
          <CautionOf caution={job.caution} said={job.figures} />
        </section>
      ))}
    </>
  );
}
