// Questions to the rules whose answers a screen shows: asked again when what they rest on changes, the last answer stays meanwhile.
import { useEffect, useState } from "preact/hooks";
import { ask } from "./engine/client";

export type Question = { do: string; [name: string]: unknown };
/** `is_current`: the answer is to the question as it stands now. */
export type Asked<T> = { answer: T | null; refusal: string; is_current: boolean };

type Answered<T> = { answer: T | null; refusal: string; rested_on: unknown[] };

/** The answer to one question; a refusal is an error with its sentence. */
export async function answerOf<T>(question: Question): Promise<T> {
  const answer = await ask(question);
  if (!answer.ok) throw new Error(answer.sentence);
  return answer as T;
}

/** Ask when `rests_on` changes (the caller says what that is); `question` null asks nothing. The newest question wins. */
export const useAnswer = <T>(question: Question | null, rests_on: unknown[]): Asked<T> =>
  useMade(question && (() => answerOf<T>(question)), rests_on);

/** The same of what is made by several questions. */
export function useMade<T>(make: (() => Promise<T>) | null, rests_on: unknown[]): Asked<T> {
  const [asked, setAsked] = useState<Answered<T>>({ answer: null, refusal: "", rested_on: [] });
  useEffect(() => {
    if (!make) return;
    let is_newest = true;
    make().then(
      (answer) => {
        if (is_newest) setAsked({ answer, refusal: "", rested_on: rests_on });
      },
      (error: unknown) => {
        const refusal = error instanceof Error ? error.message : String(error);
        if (is_newest) setAsked((before) => ({ ...before, refusal }));
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
