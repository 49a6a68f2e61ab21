// Taking the day off this phone. While something was never sent, its number must be typed: nothing is lost by a slip.
import { useState } from "preact/hooks";
import { facts } from "../../day_signals";
import { forget } from "../../engine/client";
import { Fold } from "../../parts/blocks";
import { useGoing, Waiting } from "../../parts/slow";
import { pictures_now } from "../../pictures_now";
import { words } from "../../words";

const w = words.phone;

export function ForgetDay() {
  const [typed, setTyped] = useState("");
  const [told, setTold] = useState("");
  const known = facts.value;
  const lost = (known?.unsent ?? 0) + (known?.refused.length ?? 0) + pictures_now.value.unsent;
  const is_sure = lost === 0 || typed.trim() === String(lost);
  const { is_going, failed, run } = useGoing();
  const drop = async () => {
    const answer = await forget(lost);
    setTold(answer.forgotten ? "" : w.forget_changed(answer.unsent));
  };
  return (
    <Fold title={w.forget}>
      <div class="entry">
        <p>{w.forget_more}</p>
        {lost > 0 && (
          <>
            <p>
              <b>{w.forget_unsent(lost)}</b>
            </p>
            <label class="name" for="forget-number">
              {w.forget_type(lost)}
            </label>
            <input
              id="forget-number"
              type="text"
              inputMode="numeric"
              autocomplete="off"
              value={typed}
              onInput={(event) => setTyped(event.currentTarget.value)}
            />
          </>
        )}
        <div class="btns forget">
          <button type="button" class="btn" disabled={!is_sure || is_going} onClick={() => void run(drop)}>
            {w.forget_do}
          </button>
        </div>
        <Waiting sentence={words.wait.working} is_going={is_going} />
        <p role="alert">{failed || told}</p>
      </div>
    </Fold>
  );
}
