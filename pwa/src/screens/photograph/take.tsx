// Taking or choosing a photograph inside a form, and saying what it shows. Nothing is kept before the form is.
import { useEffect, useId, useState } from "preact/hooks";
import { keepPicture, newId, type ScreenAct } from "../../engine/client";
import { type Made, makePicture } from "../../engine/picture";
import { Refusal } from "../../parts/blocks";
import { Waiting } from "../../parts/slow";
import { words } from "../../words";

const w = words.photograph;

type Making = ReturnType<typeof makePicture>;
/** A picture in a form: none, on its way to being small enough, or made. */
export type Taken = { making: Making | null; made: Made | null; says: string };
export const nothing_taken: Taken = { making: null, made: null, says: "" };

const whyNot = (code: string): string => w.not_kept[code] ?? code;

type Answer = { act?: ScreenAct; refused?: string };

/** Keep the picture on this phone and return the act that names it; or say why it was not kept. */
export async function photographAct(taken: Taken, of: string, or_says: string): Promise<Answer> {
  // Who raises a hold does not wait for the picture: the hold waits for it, or it would go without.
  const answer_made = taken.made ?? (await taken.making);
  if (answer_made && "refused" in answer_made) return { refused: whyNot(answer_made.refused) };
  const made = answer_made;
  const says = (taken.says.trim() || or_says.trim()).slice(0, 60);
  if (!made) return {};
  if (!says) return { refused: w.needs_says };
  const answer = await keepPicture({ octets: made.octets, small: made.small });
  if (!answer.kept) return { refused: whyNot(answer.code) };
  const { width_px, height_px, octets } = made;
  const set = { says, of, digest: answer.digest, width_px, height_px, bytes: octets.length };
  return { act: { kind: "photograph", record: newId(), set } };
}

function Preview({ made, says }: { made: Made; says: string }) {
  const [url, setUrl] = useState("");
  useEffect(() => {
    const made_url = URL.createObjectURL(new Blob([made.octets as BlobPart], { type: "image/jpeg" }));
    setUrl(made_url);
    return () => URL.revokeObjectURL(made_url);
  }, [made]);
  return url ? (
    <span class="picture">
      <img src={url} alt={says || w.title} />
    </span>
  ) : null;
}

export function TakePhotograph(props: { taken: Taken; onTaken: (taken: Taken) => void; refused: string }) {
  const { making, made, says } = props.taken;
  const [refused, setRefused] = useState("");
  const id = useId();
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (!file) return;
    setRefused("");
    const begun = makePicture(file);
    props.onTaken({ making: begun, made: null, says });
    const answer = await begun;
    input.value = ""; // the same file may be chosen again
    const is_refused = "refused" in answer;
    if (is_refused) setRefused(whyNot(answer.refused));
    props.onTaken({ making: null, made: is_refused ? null : answer, says });
  };
  const pick = (word: string, camera: boolean) => (
    <label class="btn pick">
      <input
        type="file"
        accept="image/*"
        {...(camera ? { capture: "environment" } : {})}
        disabled={making !== null}
        onChange={(event) => void take(event.currentTarget)}
      />
      <span>{word}</span>
    </label>
  );
  return (
    <fieldset class="entry">
      <legend>{w.title}</legend>
      {made ? (
        <>
          <Preview made={made} says={says} />
          <label class="name" for={`${id}s`}>
            {w.says}
          </label>
          <input
            id={`${id}s`}
            type="text"
            dir="auto"
            autocomplete="off"
            maxLength={60}
            aria-describedby={`${id}m`}
            value={says}
            onInput={(event) => props.onTaken({ making, made, says: event.currentTarget.value })}
          />
          <span class="told" id={`${id}m`}>
            {w.says_more}
          </span>
          <div class="btns">
            <button
              type="button"
              class="btn narrow"
              onClick={() => props.onTaken({ making: null, made: null, says })}
            >
              {w.without}
            </button>
          </div>
        </>
      ) : (
        <div class="btns">
          {pick(w.take, true)}
          {pick(w.choose, false)}
        </div>
      )}
      <Waiting sentence={w.making} is_going={making !== null} />
      <Refusal sentence={refused || props.refused} />
    </fieldset>
  );
}
