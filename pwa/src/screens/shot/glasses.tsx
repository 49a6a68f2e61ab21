// Glasses: what is mixed and from what, who may not drink it, how long a batch stands. Not cleared is never shown as cleared.
import { useAnswer } from "../../asked";
import { gather } from "../../day_reads";
import { facts, membership } from "../../day_signals";
import type { RecordKey } from "../../engine/contract";
import { Caution as CautionBlock, Empty, Fold, HoldBlock } from "../../parts/blocks";
import { FactLine } from "../../parts/figures";
import { Mark } from "../../parts/mark";
import { Said } from "../../parts/said";
import { link, recordLink } from "../../routing";
import type { Caution, Sheet, Thing } from "../../sheet_types";
import type { Drink } from "../../sheet_types_of_things";
import { words } from "../../words";
import { CautionOf, cautionsOf, FigureRows } from "./figure_rows";
import { RowsOf } from "./folded";
import { ThingHead } from "./rig";
import { FactRow } from "./things";

const w = words.sheet.glasses;

const Mix = ({ drink, shot }: { drink: Drink; shot: string }) =>
  drink.mix.map((one) => (
    <a key={one.record} class="row plain" href={recordLink(one.record, { shot })}>
      <FactLine
        label={one.title}
        more={words.join_words([one.share, one.from && w.figures_from(one.from)])}
        shown={one.amount}
      />
    </a>
  ));

/** All labels in one row: who may not drink it is read in one look. */
const Allergens = ({ drink, shot }: { drink: Drink; shot: string }) => (
  <a class="row plain" href={link("record", drink.record.split("/"), { field: "allergens", shot })}>
    <span>
      <span class="t">{w.allergens}</span>
      {drink.allergens.map((one) => (
        <span key={one.record} class="n">
          <b>
            <Said>{one.title}</Said>
          </b>{" "}
          <Said>{one.words}</Said>
        </span>
      ))}
    </span>
  </a>
);

type WhoDrinks = {
  record: RecordKey;
  not_for: { record: RecordKey; sentence: string }[];
  unknown: string[];
  caution: Caution | null;
};

/** Whom it is not for, and of whom nobody knows. Only on phones that hold the health data of the day. */
const WhoMay = ({ who, shot }: { who: WhoDrinks; shot: string }) => (
  <>
    {who.not_for.map(({ record, sentence }) => (
      <a key={record} class="row plain need" href={recordLink(record, { shot })}>
        <b class="act">
          <Said>{sentence}</Said>
        </b>
      </a>
    ))}
    <a class="row plain" href={link("add", ["allergy"], { shot })}>
      <span>
        {who.unknown.map((sentence) => (
          <span key={sentence} class="n">
            <Mark name="unk" is_small />
            <Said>{sentence}</Said>
          </span>
        ))}
        <span class="do">{w.add_answer}</span>
      </span>
      <CautionBlock caution={who.caution} />
    </a>
  </>
);

const WHO = ["performer", "allergy", "drink", "food", "ingredient"];

/** Asked of the rules by these phones alone; it is in no sheet. */
function useWhoDrinks(): WhoDrinks[] {
  const is_held = membership.value?.sets.includes("health") ?? false;
  const question = is_held ? { do: "who_drinks", records: gather(WHO) } : null;
  const { answer } = useAnswer<{ drinks: WhoDrinks[] }>(question, [is_held, facts.value?.edits]);
  return is_held ? (answer?.drinks ?? []) : [];
}

function OneDrink({
  drink,
  thing,
  shot,
  cut,
  who,
}: {
  drink: Drink;
  thing: Thing | undefined;
  shot: string;
  cut: number;
  who: WhoDrinks | undefined;
}) {
  const facts = thing?.facts ?? [];
  const rows = thing?.rows ?? [];
  return (
    <section>
      <ThingHead record={drink.record} title={drink.title} shot={shot} cut={cut} is_top />
      {!drink.cleared && (
        <div class="line">
          <HoldBlock word={w.not_cleared}>
            <Said>{words.shot.round_not_done_more}</Said>
          </HoldBlock>
        </div>
      )}
      <RowsOf rows={rows} />
      <Allergens drink={drink} shot={shot} />
      {who && <WhoMay who={who} shot={shot} />}
      <Mix drink={drink} shot={shot} />
      <FigureRows figures={drink.figures} shot={shot} said={cautionsOf(rows)} />
      <CautionOf caution={drink.caution} said={[...drink.figures, ...rows]} />
      {facts.length > 0 && (
        <Fold title={words.shot.more_facts} count={facts.length}>
          {facts.map((fact) => (
            <FactRow
              key={`${fact.record ?? ""}/${fact.field}`}
              fact={fact}
              record={drink.record}
              shot={shot}
            />
          ))}
        </Fold>
      )}
    </section>
  );
}

export function GlassesTab({ sheet, shot }: { sheet: Sheet; shot: string }) {
  const drinks = sheet.drinks ?? [];
  const who = useWhoDrinks();
  const things = new Map(sheet.rows.glasses.map((thing) => [thing.record, thing]));
  return (
    <>
      {drinks.some((drink) => !drink.cleared) && (
        <div class="line">
          <HoldBlock word={words.shot.round_not_done}>
            <Said>{words.shot.round_not_done_more}</Said>
          </HoldBlock>
        </div>
      )}
      {drinks.map((drink, place) => (
        <OneDrink
          key={drink.record}
          drink={drink}
          thing={things.get(drink.record)}
          shot={shot}
          cut={place}
          who={who.find(({ record }) => record === drink.record)}
        />
      ))}
      {drinks.length === 0 && <Empty sentence={words.shot.empty.glasses} />}
      <div class="actions btns">
        <a class="btn" href={link("add", ["drink"], { shot })}>
          {words.record.add_kind.drink}
        </a>
      </div>
    </>
  );
}
