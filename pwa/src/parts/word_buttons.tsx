// One tap each: what a department says of a shot. It knows no day; the screen says what stands and what a tap does.
import { Said } from "./said";

export type WordChoice = { key: string; word: string; is_on: boolean; say: () => void };

export const WordButtons = (props: { label: string; stands: string; choices: WordChoice[] }) => (
  // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be laid out as a grid everywhere; the role says the same
  <div class="own-word" role="group" aria-label={props.label}>
    <p class="sub">
      <Said>{props.stands}</Said>
    </p>
    <div class="say-it">
      {props.choices.map(({ key, word, is_on, say }) => (
        <button key={key} type="button" class="btn" aria-pressed={is_on} onClick={say}>
          {word}
        </button>
      ))}
    </div>
  </div>
);
