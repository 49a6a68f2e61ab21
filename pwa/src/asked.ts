// Questions to the rules whose answers a screen shows: asked again when what they rest on changes, the last answer stays meanwhile.
import { useEffect, useState } from "preact/hooks";
import { ask } from "./engine/client";

export type Question = { do: string; [name: string]: unknown };
/** `is_current`: the answer is to the question as it stands now. */
export type Asked<T> = { answer: T | null; refusal: string; is_current: boolean };

type Answered<T> = { answer: T | null; refusal: string; rested_on: unknown[] };

/** Ask when `rests_on` changes (the caller says what that is); `question` null asks nothing. The newest question wins. */
export function useAnswer<T>(question: Question | null, rests_on: unknown[]): Asked<T> {
  const [asked, setAsked] = useState<Answered<T>>({ answer: null, refusal: "", rested_on: [] });
  useEffect(() => {
    if (!question) return;
    let is_newest = true;
    ask(question).then(
      (answer) => {
        if (!is_newest) return;
        if (answer.ok) setAsked({ answer: answer as T, refusal: "", rested_on: rests_on });
        else setAsked((before) => ({ ...before, refusal: answer.sentence }));
      },
      (error: unknown) => {
        if (is_newest) setAsked((before) => ({ ...before, refusal: String(error) }));
      },
    );
    return () => {
      is_newest = false;
    };
  }, rests_on);
  const { answer, refusal, rested_on } = asked;
  const is_same =
    rests_on.length === rested_on.length && rests_on.every((one, place) => one === rested_on[place]);
  return { answer, refusal, is_current: answer !== null && is_same };
}

export { useSlow } from "./parts/slow";
