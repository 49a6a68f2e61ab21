// Dimmers: what meets the level that is wanted, applied with one tap; where full is not enough, the ways out with what each costs.
import { useState } from "preact/hooks";
import { useSlow } from "../../asked";
import type { ShotNow } from "../../day_reads";
import { Caution, Fold, NotSaved, Progress } from "../../parts/blocks";
import { Figure as Amount, figureAndUnit } from "../../parts/figures";
import { Said, unbroken } from "../../parts/said";
import type { Setting, Way, Ways } from "../../sheet_types_of_light";
import { words } from "../../words";
import { useOfShot } from "./ask_shot";
import { MissingRows } from "./figure_rows";
import { tryOut } from "./tried";

const w = words.sheet.light;

/** Apply acts once, whatever a bouncing glove does. */
export function useTryOut(
  shot: string,
): [failed: string, is_busy: boolean, apply: (said: string, acts: Way["acts"]) => void] {
  const [failed, setFailed] = useState("");
  const [is_busy, setBusy] = useState(false);
  const apply = (said: string, acts: Way["acts"]) => {
    if (is_busy) return;
    setBusy(true);
    tryOut(shot, said, acts)
      .then(setFailed, (error: unknown) => setFailed(String(error)))
      .finally(() => setBusy(false));
  };
  return [failed, is_busy, apply];
}

function OneWay({ way, shot }: { way: Way; shot: string }) {
  const [failed, is_busy, apply] = useTryOut(shot);
  const [amount, unit] = figureAndUnit(way.gain?.shown ?? "");
  const facts = [
    ...way.costs,
    way.on_hand === null ? w.not_counted : "",
    way.minutes ? w.minutes(way.minutes) : "",
    way.is_enough === null ? w.limit_unknown : way.is_enough ? "" : w.not_enough,
    way.after ? w.after(way.after.shown) : "",
  ];
  const inside = (
    <>
      <span>
        <span class="t">
          <Said>{way.title}</Said>
        </span>
        <span class="n">
          <Said>{unbroken(words.join_words(facts))}</Said>
          {way.acts.length > 0 && <span class="do"> {w.try_it}</span>}
        </span>
        <NotSaved sentence={failed} />
      </span>
      <Amount amount={amount} unit={unit} />
      <Caution caution={way.caution} />
    </>
  );
  return (
    <>
      {way.acts.length > 0 ? (
        <button type="button" class="row plain" disabled={is_busy} onClick={() => apply(way.title, way.acts)}>
          {inside}
        </button>
      ) : (
        <div class="row plain">{inside}</div>
      )}
      <MissingRows missing={way.missing} shot={shot} />
    </>
  );
}

/** Asked only when opened: every way is worked out on a copy of its own. */
function WaysOut({ found, level }: { found: ShotNow; level: string }) {
  const { answer, refusal } = useOfShot<{ ways: Ways }>(found, { do: "ways", level } as { do: string }, [
    level,
  ]);
  const is_slow = useSlow(!answer && !refusal);
  if (!answer)
    return refusal ? <p class="para">{refusal}</p> : <Progress sentence={w.trying} is_slow={is_slow} />;
  const { ways, line, missing } = answer.ways;
  return (
    <>
      <p class="para sub">
        <Said>{unbroken(line)}</Said>
      </p>
      {ways.map((way) => (
        <OneWay key={way.title} way={way} shot={found.shot} />
      ))}
      {ways.length === 0 && missing.length === 0 && <p class="para">{w.no_ways}</p>}
      <MissingRows missing={missing} shot={found.shot} />
    </>
  );
}

function OneSetting({ setting, found }: { setting: Setting; found: ShotNow }) {
  const [failed, is_busy, apply] = useTryOut(found.shot);
  const is_settable = setting.acts.length > 0;
  const [amount, unit] = figureAndUnit(setting.percent?.shown ?? setting.short?.shown ?? "");
  const inside = (
    <>
      <span>
        <span class="t">
          <Said>{words.join_words([setting.title, setting.role])}</Said>
        </span>
        <span class="n">
          <Said>
            {unbroken(words.join_words([setting.line, w.wanted(setting.wanted.shown, setting.wanted.line)]))}
          </Said>
          {is_settable && <span class="do"> {w.set_it}</span>}
        </span>
        <NotSaved sentence={failed} />
      </span>
      <Amount amount={amount} unit={unit} />
    </>
  );
  const said = words.join_words([setting.title, setting.percent?.shown ?? ""]);
  return (
    <>
      {is_settable ? (
        <button type="button" class="row plain" disabled={is_busy} onClick={() => apply(said, setting.acts)}>
          {inside}
        </button>
      ) : (
        <div class={setting.short ? "row plain need" : "row plain"}>{inside}</div>
      )}
      <MissingRows missing={setting.missing} shot={found.shot} />
      {setting.short && (
        <Fold title={w.ways_of(setting.title)}>
          <WaysOut found={found} level={setting.level} />
        </Fold>
      )}
    </>
  );
}

export function Dimmers({ settings, found }: { settings: Setting[]; found: ShotNow }) {
  if (!settings.length) return null;
  return (
    <>
      <h2>{w.dimmers}</h2>
      {settings.map((setting) => (
        <OneSetting key={setting.level} setting={setting} found={found} />
      ))}
    </>
  );
}
