// Three screens on how it works: after joining, once on a phone; again from 'This phone'. Skipped by one tap.
import { Head } from "../../parts/blocks";
import { Mark, type MarkName } from "../../parts/mark";
import { link } from "../../routing";
import { words } from "../../words";

const w = words.help.tour;
const PLACE = "tailslate.tour";

/** Where a phone that has just joined goes: the tour the first time, the day from then on. */
export function afterJoining(): string {
  try {
    if (localStorage.getItem(PLACE)) return link("day");
    localStorage.setItem(PLACE, "shown");
  } catch {
    return link("day"); // a browser that keeps nothing would show it every time
  }
  return link("tour");
}

export function TourScreen({ parts }: { parts: string[] }) {
  const at = Math.min(w.pages.length, Math.max(1, Number(parts[0]) || 1));
  const page = w.pages[at - 1];
  if (!page) return null;
  const is_last = at === w.pages.length;
  return (
    <>
      <Head number={page.title} lines={[w.of(at, w.pages.length)]} />
      {page.lines.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      {page.marks.map(([mark, word]) => (
        <div key={mark} class="row">
          <Mark name={mark as MarkName} />
          <span class="t">{word}</span>
        </div>
      ))}
      <div class="actions btns">
        <a class="btn solid" href={is_last ? link("day") : link("tour", [`${at + 1}`])}>
          {is_last ? w.done : w.next}
        </a>
        {!is_last && (
          <a class="btn" href={link("day")}>
            {w.skip}
          </a>
        )}
      </div>
    </>
  );
}
