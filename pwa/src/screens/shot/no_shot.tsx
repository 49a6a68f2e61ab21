// Where a shot is wanted and there is none: on an empty day what to do first, else where one is chosen.
import { facts, recordsOf } from "../../day_signals";
import { Empty, Head } from "../../parts/blocks";
import { link } from "../../routing";
import { words } from "../../words";

/** Nobody has added a shot, as far as this phone has read. */
export const hasNoShot = (): boolean => recordsOf("shot").value.length === 0;

export function EmptyDay() {
  const w = words.day;
  // A day that was not read yet is not an empty day.
  if (!facts.value?.matched_ms || facts.value.incomplete.length) {
    return <Empty sentence={w.fetching} next={w.fetching_more} />;
  }
  return (
    <Empty sentence={w.empty} next={w.empty_do}>
      <a class="btn solid" href={link("add", ["shot"])}>
        {w.add_shot}
      </a>
      <a class="btn" href={link("bring")}>
        {words.bring.title}
      </a>
    </Empty>
  );
}

export const NoShot = ({ title }: { title: string }) => (
  <>
    <Head number={title} />
    {hasNoShot() ? <EmptyDay /> : <Empty sentence={words.shot.none} next={words.shot.none_do} />}
  </>
);
