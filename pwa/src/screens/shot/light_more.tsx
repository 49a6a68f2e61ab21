// What the rules know of a shot's light beyond its levels: what a change did, how soft, how far apart, what readings said.
import { Caution, Fold } from "../../parts/blocks";
import { FactLine, LevelFigure } from "../../parts/figures";
import { Mark } from "../../parts/mark";
import { Said, unbroken } from "../../parts/said";
import { ChangePlot } from "../../plots/change";
import { link, recordLink } from "../../routing";
import type { Level, Sheet } from "../../sheet_types";
import type { Bounce, Correction, LevelChange, Softness } from "../../sheet_types_of_light";
import { words } from "../../words";
import { MissingRows } from "./figure_rows";

const w = words.sheet.light;

/** Fill down n stops, the ratio before and now, and who changed what. */
export function Changes({ changes, levels }: { changes: LevelChange[]; levels: Level[] }) {
  if (!changes.length) return null;
  return (
    <>
      <h2>{w.changes}</h2>
      {changes.map((change) => (
        <section key={`${change.point} ${change.role}`}>
          <div class="row need">
            <Mark name="chg" />
            <span>
              <span class="t">
                <Said>{unbroken(change.sentence)}</Said>
              </span>
              {change.because.map((sentence) => (
                <span key={sentence} class="n">
                  <Said>{unbroken(sentence)}</Said>
                </span>
              ))}
            </span>
          </div>
          <ChangePlot
            change={change}
            level={levels.find(({ point, role }) => point === change.point && role === change.role)}
          />
        </section>
      ))}
    </>
  );
}

export const Spread = ({ spread }: { spread: Sheet["light"]["spread"] }) =>
  spread ? (
    <a class="lv" href={link("meaning", [w.spread])}>
      <span class="lab">{w.spread}</span>
      <span>
        <LevelFigure shown={spread.shown} kind={spread.low === spread.high ? "reading" : "range"} />
      </span>
      <span class="n">
        <Said>{spread.line}</Said>
      </span>
    </a>
  ) : null;

export function SoftnessRows({ softness }: { softness: Softness[] }) {
  if (!softness.length) return null;
  return (
    <Fold title={w.softness} count={softness.length}>
      {softness.map((one) => (
        <div key={one.level} class="row plain">
          <span>
            <span class="t">
              <Said>{words.join_words([one.title, one.role])}</Said>
            </span>
            <span class="say">
              <Said>{unbroken(w.wide_high(one.width.shown, one.height.shown))}</Said>
            </span>
            {[one.from, one.penumbra.shown, one.wrap.shown, one.catchlight.shown, one.hard_core]
              .filter(Boolean)
              .map((sentence) => (
                <span key={sentence} class="n">
                  <Said>{unbroken(sentence)}</Said>
                </span>
              ))}
          </span>
        </div>
      ))}
    </Fold>
  );
}

export function Bounces({ bounces, shot }: { bounces: Bounce[]; shot: string }) {
  if (!bounces.length) return null;
  return (
    <Fold title={w.bounces} count={bounces.length}>
      {bounces.map((one) => (
        <section key={one.record}>
          <a class="row plain" href={recordLink(one.record, { shot })}>
            <FactLine
              label={words.join_words([one.title, one.lifts])}
              more={unbroken(words.join_words([one.share?.shown ?? "", one.line, one.lux?.shown ?? ""]))}
              shown={one.stops?.shown ?? words.shot.unknown}
            />
            <Caution caution={one.caution} />
          </a>
          <MissingRows missing={one.missing} shot={shot} />
        </section>
      ))}
    </Fold>
  );
}

export function Corrections({ corrections, shot }: { corrections: Correction[]; shot: string }) {
  if (!corrections.length) return null;
  return (
    <Fold
      title={w.corrections}
      count={corrections.length}
      is_open={corrections.some((one) => one.is_outside)}
    >
      {corrections.map((one) => (
        <a
          key={one.source}
          class={one.is_outside ? "row plain need" : "row plain"}
          href={recordLink(one.source, { shot })}
        >
          <span>
            <span class="t">
              <Said>{one.title}</Said>
            </span>
            <span class="n">
              <Said>{unbroken(one.line)}</Said>
            </span>
          </span>
        </a>
      ))}
    </Fold>
  );
}
