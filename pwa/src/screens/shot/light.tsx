// Light: each point's level as a reading or a range, what is missing to know more, the ladder of each source.

import { type ShotNow, titleOf } from "../../day_reads";
import { Caution, Empty, Fold } from "../../parts/blocks";
import { LevelFigure, Pointer } from "../../parts/figures";
import { Said, unbroken } from "../../parts/said";
import { LadderPlot, LadderRows } from "../../plots/ladder";
import { link } from "../../routing";
import type { Ladder, Level, Sheet } from "../../sheet_types";
import { words } from "../../words";
import { Bounces, Changes, Corrections, SoftnessRows, Spread } from "./light_more";
import { TriedRows } from "./tried";
import { Dimmers } from "./ways";

const roleWord = (level: Level): string => {
  const word = level.role || level.title;
  return word.charAt(0).toUpperCase() + word.slice(1);
};

/** "59 lx, 5.5 fc", where the rules give them. */
const amounts = (level: Level): string =>
  words.join_words([level.lux?.shown ?? "", level.footcandles?.shown ?? ""]);

export function LevelBlock({ level, shot }: { level: Level; shot: string }) {
  const big = level.stops ?? level.lux;
  const amount = level.stops ? amounts(level) : (level.footcandles?.shown ?? "");
  const [, point = ""] = level.point.split("/");
  const readIt = link("add", ["reading"], { shot, point, role: level.role });
  const at = level.point ? words.shot.at(titleOf(level.point)) : "";
  return (
    <>
      <a class="lv" href={readIt}>
        <span class="lab">
          <Said>{roleWord(level)}</Said>
        </span>
        <span>
          {level.kind === "unknown" || !big ? (
            <span class="v">
              <small>{level.kind === "unknown" ? words.shot.unknown : words.shot.no_range}</small>
            </span>
          ) : (
            <LevelFigure shown={big.shown} kind={level.kind} />
          )}
        </span>
        <span class="n">
          {level.kind === "reading" && <Pointer />}
          <Said>{unbroken(words.join_words([level.line, amount, at, level.from_key?.shown ?? ""]))}</Said>
          {level.kind !== "reading" && <span class="do"> {words.shot.tap_to_read}</span>}
        </span>
        {level.changed.length > 0 && (
          <span class="n again">
            <b class="act">{words.shot.read_again}</b> <Said>{level.changed.join(". ")}</Said>
          </span>
        )}
        <Caution caution={level.caution} />
      </a>
      {level.missing
        .filter((one) => one.record)
        .map((one) => {
          const [kind = "", id = ""] = one.record.split("/");
          return (
            <a
              key={`${one.record}/${one.field}`}
              class="row plain"
              href={link("record", [kind, id], { field: one.field, shot })}
            >
              <span>
                <span class="t">
                  <Said>{one.sentence}</Said>
                </span>
                <span class="n">{words.shot.fill_in}</span>
              </span>
            </a>
          );
        })}
    </>
  );
}

/** The key first; the others as they come. */
const byRole = (ladders: Ladder[]): Ladder[] =>
  [...ladders].sort((a, b) => Number(b.role === "key") - Number(a.role === "key"));

export function LightTab({ sheet, shot, found }: { sheet: Sheet; shot: string; found: ShotNow }) {
  const { levels, key_to_fill, ladders, changes = [], settings = [], softness = [] } = sheet.light;
  const target = sheet.shot.target?.sentence ?? "";
  return (
    <>
      {target && (
        <p class="para sub">
          <Said>{target}</Said>
        </p>
      )}
      {levels.map((level) => (
        <LevelBlock key={`${level.point}/${level.role}`} level={level} shot={shot} />
      ))}
      {key_to_fill && (
        <a class="lv" href={link("meaning", [words.shot.key_to_fill])}>
          <span class="lab">{words.shot.key_to_fill}</span>
          <span>
            <LevelFigure shown={key_to_fill.shown} kind={key_to_fill.kind} />
          </span>
          <span class="n">
            <Said>
              {words.join_words([
                key_to_fill.was ? words.sheet.light.was(key_to_fill.was) : "",
                key_to_fill.line,
              ])}
            </Said>
          </span>
        </a>
      )}
      <Spread spread={sheet.light.spread} />
      {levels.length === 0 && <Empty sentence={words.shot.no_levels} next={words.shot.no_levels_do} />}
      <TriedRows shot={shot} />
      <Changes changes={changes} levels={levels} />
      <Dimmers settings={settings} found={found} />
      {ladders.length > 0 && <h2>{words.sheet.light.of_sources}</h2>}
      {byRole(ladders).map((ladder) => (
        <Fold
          key={ladder.source}
          title={words.join_words([ladder.title, ladder.role])}
          count={words.shot.ladder_word}
          is_open={ladder.role === "key"}
        >
          {ladder.stages.some((stage) => stage.level_low_stops !== null) && <LadderPlot ladder={ladder} />}
          <LadderRows ladder={ladder} />
        </Fold>
      ))}
      <SoftnessRows softness={softness} />
      <Bounces bounces={sheet.light.bounces ?? []} shot={shot} />
      <Corrections corrections={sheet.light.corrections ?? []} shot={shot} />
      <div class="actions btns">
        <a class="btn" href={link("add", ["reading"], { shot })}>
          {words.shot.take_reading}
        </a>
        <a class="btn" href={link("shot", [shot, "what_if"])}>
          {words.sheet.what_if.open}
        </a>
      </div>
    </>
  );
}
