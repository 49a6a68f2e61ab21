// On 'This phone': how much room pictures take, and how much they may.
import { picturesBudget } from "../../engine/client";
import { pictures_now } from "../../pictures_now";
import { words } from "../../words";
import { Choices } from "../record/chosen_entry";

const w = words.photograph;
const BUDGETS_MB = [50, 200, 500];

export function RoomForPictures() {
  const { unsent, held_bytes, budget_bytes } = pictures_now.value;
  return (
    <div class="entry">
      <Choices
        label={w.room}
        options={BUDGETS_MB.map((size) => ({ value: `${size}`, word: words.phone.megabytes(`${size}`) }))}
        chosen={[`${budget_bytes / 1e6}`]}
        onChoose={([size]) => void picturesBudget(Number(size) * 1e6)}
      />
      <span class="told">{w.room_more((held_bytes / 1e6).toFixed(1), unsent)}</span>
    </div>
  );
}
