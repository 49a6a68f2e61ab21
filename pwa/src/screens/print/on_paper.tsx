// What stands on paper that this phone prints: the card, a shot's sheet, its checklist with numbers. Seen only by the printer.
import { timeOfDay } from "../../clock";
import { type ShotNow, shots_in_order, textOf } from "../../day_reads";
import { day_sheet } from "../../day_sheet";
import { membership, record, shown } from "../../day_signals";
import { fieldNamed } from "../../kinds_table";
import { Mark } from "../../parts/mark";
import { unbroken } from "../../parts/said";
import { planOf } from "../../plots/places";
import { PlanPlot } from "../../plots/plan";
import type { Level, Sheet } from "../../sheet_types";
import type { Drink, Figure, FiguresOf, FrameOfShot } from "../../sheet_types_of_things";
import { words } from "../../words";
import { cardRows, dayKey } from "../emergency/emergency";
import { usePaperList } from "../paper/paper";
import { cautionsOf } from "../shot/figure_rows";

const w = words.record_of_day;

export const Fact = ({ label, shown }: { label: string; shown: string }) => (
  <tr>
    <th>{label}</th>
    <td>{unbroken(shown)}</td>
  </tr>
);

export const Held = ({ hold }: { hold: Sheet["holds"][number] }) => (
  <p class="held">
    <b>{hold.type === "watch" ? words.hold.watch : words.hold.word}</b> {hold.line}
  </p>
);

const CALL = ["date_label", "place", "call_time", "meal_time", "wrap_time"];

/** What was ready when it was printed grows old on paper: it says when, and asks for a voice. */
const stateOf = ({ readiness }: ShotNow): string =>
  readiness.state === "ready"
    ? words.record_of_day.print.was_ready(timeOfDay(readiness.as_of_ms))
    : words.join_words([readiness.word, readiness.sentence]);

export function PaperCard() {
  const held = day_sheet.value?.holds.filter((hold) => !hold.cleared) ?? [];
  return (
    <section class="leaf">
      <h1>{day_sheet.value?.day.title || membership.value?.day_title}</h1>
      <table>
        <tbody>
          {CALL.map((field) => [field, textOf(dayKey(), field)] as const)
            .filter(([, said]) => said)
            .map(([field, said]) => (
              <Fact key={field} label={fieldNamed("day", field)?.label ?? field} shown={said} />
            ))}
        </tbody>
      </table>
      <h2>{w.emergency.title}</h2>
      <p>
        <b>{w.emergency.first}</b>
      </p>
      <table class="emergency">
        <tbody>
          {cardRows().map(({ field, label, said }) => (
            <Fact
              key={field}
              label={label}
              shown={
                said.length > 1 ? `${w.emergency.two}: ${said.join(" / ")}` : (said[0] ?? w.emergency.none)
              }
            />
          ))}
        </tbody>
      </table>
      {held.map((hold) => (
        <Held key={hold.record} hold={hold} />
      ))}
      <h2>{words.board.shots}</h2>
      <table>
        <tbody>
          {shots_in_order.value.map((one) => {
            const { record, number, title } = one.sheet.shot;
            const planned = textOf(record, "planned_roll_time");
            return (
              <Fact
                key={record}
                label={words.join_words([`${number} ${title}`, planned])}
                shown={stateOf(one)}
              />
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

const levelShown = (level: Level): string =>
  words.join_words([level.stops?.shown ?? "", level.lux?.shown ?? ""]) || words.shot.unknown;

const figureShown = ({ state, word, shown, line }: Figure): string =>
  state === "over"
    ? `${word.toUpperCase()}: ${words.join_words([shown, line])}`
    : state === "unknown" && word !== shown
      ? `${word.toUpperCase()}: ${shown}`
      : shown;

const figuresShown = (figures: Figure[]): string =>
  figures.map((one) => `${one.label} ${figureShown(one)}`).join("; ");

/** Everything of a shot that has figures: stands, power, tape, the frame. */
function thingsOf({ rigging = [], power, tape, frame }: Sheet): FiguresOf[] {
  const rolls = tape?.rolls.map(({ figure, ...one }) => ({ ...one, figures: [figure], caution: null })) ?? [];
  const picture = {
    record: "frame",
    title: words.shot.tabs.frame,
    figures: frame?.figures ?? [],
    caution: frame?.path?.caution ?? null,
  };
  const powered = [...(power?.circuits ?? []), ...(power?.batteries ?? [])];
  return [...rigging, ...powered, ...(tape?.jobs ?? []), ...rolls, picture].filter(
    ({ figures }) => figures.length > 0,
  );
}

/** What stands in the picture and should not, in the camera's way, in the glass; and what nobody knows of. */
function AgainstTheFrame({ frame }: { frame: FrameOfShot }) {
  const in_picture = frame.things.filter(
    ({ state, wanted }) => !wanted && (state === "in" || state === "edge"),
  );
  const unsure = [...frame.things.filter(({ state }) => state === "unknown"), ...frame.unplaced];
  const said = [
    ...in_picture.map((one) => `${one.title}: ${one.word}`),
    ...(frame.path?.in_the_way ?? []).map(({ sentence }) => sentence),
    ...frame.glass.map((one) => `${one.title}: ${one.sentence}`),
    ...(unsure.length
      ? [`${words.sheet.frame.unknown}: ${unsure.map(({ title }) => title).join("; ")}`]
      : []),
  ];
  return [...new Set(said)].map((sentence) => <p key={sentence}>! {unbroken(sentence)}</p>);
}

const drinkShown = ({ allergens, mix, figures }: Drink): string =>
  [
    ...allergens.map((one) => `${one.title}: ${one.words}`),
    ...mix.map((one) => `${one.title} ${words.join_words([one.share, one.amount])}`),
    figuresShown(figures),
  ].join("; ");

export function PaperSheet({ found }: { found: ShotNow }) {
  const { sheet, readiness } = found;
  const { light, drinks = [] } = sheet;
  const things = thingsOf(sheet);
  const reasons = readiness.reasons.filter(({ code }) => code !== "hold").slice(0, 6);
  const of_figures = [...things, ...drinks].flatMap(({ caution, figures }) => [{ caution }, ...figures]);
  const cautioned = [...sheet.holds, ...reasons, ...of_figures, ...light.levels];
  const state = readiness.state === "ready" ? stateOf(found) : readiness.word;
  const scene = shown(record(sheet.shot.record).value?.scene);
  return (
    <section class="leaf">
      <h1>
        {sheet.shot.number} {sheet.shot.title}: {state}
      </h1>
      {sheet.holds
        .filter((hold) => !hold.cleared)
        .map((hold) => (
          <Held key={hold.record} hold={hold} />
        ))}
      {drinks
        .filter(({ cleared }) => !cleared)
        .map(({ record, title }) => (
          <p key={record} class="held">
            <b>{words.sheet.glasses.not_cleared}</b> {title}. {words.shot.round_not_done_more}
          </p>
        ))}
      {reasons.map((reason) => (
        <p key={`${reason.code} ${reason.record} ${reason.field}`}>! {reason.sentence}</p>
      ))}
      <table>
        <tbody>
          {sheet.shot.target && <Fact label={words.shot.target} shown={sheet.shot.target.sentence} />}
          {sheet.setup
            .filter(({ record }) => record?.startsWith("setup/"))
            .map((fact) => (
              <Fact key={`${fact.record} ${fact.field}`} label={fact.label} shown={fact.shown} />
            ))}
          {light.levels.map((level) => (
            <Fact
              key={`${level.point} ${level.role}`}
              label={level.title}
              shown={words.join_words([levelShown(level), level.line])}
            />
          ))}
          {light.key_to_fill && <Fact label={words.shot.key_to_fill} shown={light.key_to_fill.shown} />}
          {things.map((thing) => (
            <Fact key={thing.record} label={thing.title} shown={figuresShown(thing.figures)} />
          ))}
          {drinks.map((drink) => (
            <Fact key={drink.record} label={drink.title} shown={drinkShown(drink)} />
          ))}
        </tbody>
      </table>
      {sheet.frame && <AgainstTheFrame frame={sheet.frame} />}
      {cautionsOf(cautioned).map((sentence) => (
        <p key={sentence} class="warn">
          <b>CAUTION</b> {sentence}
        </p>
      ))}
      <PlanPlot
        plan={planOf(typeof scene === "string" ? scene : "", found.shot, sheet.frame)}
        frame={sheet.frame}
      />
    </section>
  );
}

export function PaperChecklist({ found }: { found: ShotNow }) {
  const { answer } = usePaperList(found);
  if (!answer) return null;
  const { code, rows } = answer.list;
  const { number, title } = found.sheet.shot;
  const departments = [...new Map(rows.map((one) => [one.department, one.label]))];
  return (
    <section class="leaf">
      <h1>
        {number} {title}: {w.print.list(code)}
      </h1>
      <p>{w.print.tick_by} ______________________</p>
      {departments.map(([department, label]) => (
        <table key={department} class="boxes">
          <thead>
            <tr>
              <th colSpan={4}>{label}</th>
            </tr>
          </thead>
          <tbody>
            {rows
              .filter((one) => one.department === department)
              .map(({ number: place, row, caution, above }) => (
                <tr key={`${row.record} ${row.field}`}>
                  <td class="nr">{place}</td>
                  <td class="box">
                    <Mark name={row.state === "done" ? "done" : "todo"} />
                  </td>
                  <td>
                    {row.must ? <b>{row.title}</b> : row.title}
                    {row.second || above
                      ? `: ${words.join_words([row.second, above && w.paper.above(above)])}`
                      : ""}
                    {caution && (
                      <small class="warn">
                        <b>CAUTION</b> {caution.sentence}
                      </small>
                    )}
                  </td>
                  <td class="nr">{unbroken(`${row.amount} ${row.unit}`.trim())}</td>
                </tr>
              ))}
          </tbody>
        </table>
      ))}
    </section>
  );
}
