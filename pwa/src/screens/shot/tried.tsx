// Try-outs on set: acts that the rules proposed, applied with one tap, and one tap back to the values before.
import { signal } from "@preact/signals";
import { useState } from "preact/hooks";
import { save, undo } from "../../acting";
import { membership, recordNow, shown } from "../../day_signals";
import type { ScreenAct } from "../../engine/client";
import { NotSaved } from "../../parts/blocks";
import { Mark } from "../../parts/mark";
import { Said } from "../../parts/said";
import { words } from "../../words";

type TriedOut = { said: string; back: ScreenAct[] };

type AllTried = { [day_and_shot: string]: TriedOut[] };
const PLACE = "tailslate.tried";

function read(): AllTried {
  try {
    return JSON.parse(localStorage.getItem(PLACE) ?? "{}");
  } catch {
    return {}; // no localStorage, or a damaged entry: the history still has the values before
  }
}

/** What was tried on each shot from this phone, the newest first; outlives a closed app. */
const tried = signal<AllTried>(read());
const placeOf = (shot: string): string => `${membership.value?.day ?? ""} ${shot}`;
const triedOn = (shot: string): TriedOut[] => tried.value[placeOf(shot)] ?? [];

function keep(shot: string, all: TriedOut[]): void {
  tried.value = { ...tried.value, [placeOf(shot)]: all };
  try {
    localStorage.setItem(PLACE, JSON.stringify(tried.value));
  } catch (error) {
    console.warn("localStorage did not take what was tried", error);
  }
}

const before = ({ kind, record, set }: ScreenAct): ScreenAct["set"] =>
  Object.fromEntries(
    Object.keys(set).map((field) => {
      const value = shown(recordNow(`${kind}/${record}`)?.[field]);
      return [field, field === "present" ? true : (value ?? null)];
    }),
  );

/** Apply acts as edits for everyone; returns why not, "" when they were saved. */
export async function tryOut(shot: string, said: string, acts: ScreenAct[]): Promise<string> {
  const answer = await save(acts, said, acts.map(before));
  if (answer.back.length) {
    keep(shot, [{ said, back: answer.back }, ...triedOn(shot)]);
  }
  return answer.saved ? "" : (answer.reasons[0]?.sentence ?? words.save.no_answer);
}

/** What was tried, each with the way back. Stays until it is used. */
export function TriedRows({ shot }: { shot: string }) {
  const [failed, setFailed] = useState("");
  const putBack = async (one: TriedOut) => {
    const answer = await save(one.back);
    if (undo.value?.said === one.said) undo.value = null; // it is undone: nothing more to offer
    setFailed(answer.saved ? "" : (answer.reasons[0]?.sentence ?? words.save.no_answer));
    if (answer.saved) {
      keep(
        shot,
        triedOn(shot).filter((other) => other !== one),
      );
    }
  };
  return (
    <>
      {triedOn(shot).map((one, place) => (
        <button key={`${place} ${one.said}`} type="button" class="row" onClick={() => void putBack(one)}>
          <Mark name="chg" />
          <span>
            <span class="t">
              <Said>{words.sheet.tried.said(one.said)}</Said>
            </span>
            <span class="n">{words.sheet.tried.put_back_more}</span>
          </span>
          <span class="word">
            <b>{words.sheet.tried.put_back}</b>
          </span>
        </button>
      ))}
      <NotSaved sentence={failed} />
    </>
  );
}
