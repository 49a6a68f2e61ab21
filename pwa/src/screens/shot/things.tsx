// What a shot stands on: rigs, glasses, dressing, circuits, each with its facts, its caution and what can be ticked on it.
import { Caution, Empty, Fold } from "../../parts/blocks";
import { FactLine } from "../../parts/figures";
import { Strip } from "../../parts/said";
import { link, recordLink } from "../../routing";
import type { Fact, Row, Thing } from "../../sheet_types";
import { words } from "../../words";
import { RowsOf } from "./folded";

const SHOWN_FACTS = 3;

export const FactRow = ({ fact, record, shot }: { fact: Fact; record: string; shot: string }) => {
  const [kind = "", id = ""] = (fact.record || record).split("/");
  return (
    <a class="row plain" href={link("record", [kind, id], { field: fact.field, shot })}>
      <FactLine label={fact.label} shown={fact.shown} />
    </a>
  );
};

function OneThing({ thing, shot, cut }: { thing: Thing; shot: string; cut: number }) {
  // A caution that stands in a row of the thing is not said twice.
  const is_said = thing.rows.some((row) => row.caution?.sentence === thing.caution?.sentence);
  const facts = thing.facts.map((fact) => (
    <FactRow key={`${fact.record ?? ""}/${fact.field}`} fact={fact} record={thing.record} shot={shot} />
  ));
  return (
    <section>
      <a class="thing" href={recordLink(thing.record, { shot })}>
        <h2>
          <Strip number={thing.title} is_small cut={cut} />
        </h2>
        <span class="go-on">{words.record.edit}</span>
      </a>
      <RowsOf rows={thing.rows} />
      {facts.slice(0, SHOWN_FACTS)}
      {facts.length > SHOWN_FACTS && (
        <Fold title={words.shot.more_facts} count={facts.length - SHOWN_FACTS}>
          {facts.slice(SHOWN_FACTS)}
        </Fold>
      )}
      {!is_said && thing.caution && (
        <p class="para">
          <Caution caution={thing.caution} />
        </p>
      )}
    </section>
  );
}

type ThingsProps = { things: Thing[]; rows?: Row[]; shot: string; empty: string; add: string };

export function Things({ things, rows = [], shot, empty, add }: ThingsProps) {
  return (
    <>
      <RowsOf rows={rows} />
      {things.map((thing, index) => (
        <OneThing key={thing.record} thing={thing} shot={shot} cut={index} />
      ))}
      {things.length + rows.length === 0 && <Empty sentence={empty} />}
      <div class="actions btns">
        <a class="btn" href={link("add", [add], { shot })}>
          {words.record.add_kind[add]}
        </a>
      </div>
    </>
  );
}
