// Keys of a laptop: Escape leaves, Ctrl or Command with Z takes the last act back while that is offered.
import { takeLastBack } from "./acting";
import { back, isMain, place } from "./routing";

const TYPED = "input:not([type=radio], [type=checkbox]), textarea, select";

export function followKeys(): void {
  document.addEventListener("keydown", (event) => {
    const field = (event.target as Element).closest?.<HTMLElement>(TYPED);
    if (event.defaultPrevented) return;
    if (event.key === "Escape") {
      // Out of the field first: one key never loses a form.
      if (field) field.blur();
      else if (!isMain(place.value)) back();
    }
    // In a form, and while something is typed, these keys are the field's own.
    if (field?.closest("form, .open")) return;
    if (event.key !== "z" || !(event.ctrlKey || event.metaKey)) return;
    if (takeLastBack()) event.preventDefault();
  });
}
