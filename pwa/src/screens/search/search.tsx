// Find anything on the day: words in any record, narrowed by shot, department, state, place, and what I have not looked at.
import { useRef, useState } from "preact/hooks";
import { kindOf, shots_in_order } from "../../day_reads";
import { useInView } from "../../in_view";
import { departmentLabel, kindNamed, kinds_table } from "../../kinds_table";
import { Empty, Fold, Head } from "../../parts/blocks";
import { Said, Unseen } from "../../parts/said";
import { link, recordLink } from "../../routing";
import { isUnseen } from "../../seen";
import { words } from "../../words";
import { Choices, Chooser } from "../record/chosen_entry";
import { everything, type Found, folded } from "./index";

const w = words.bring.search;
const SHOWN = 60;
type Filters = { shot: string; department: string; state: string; place: string; news: boolean };
const NO_FILTER: Filters = { shot: "", department: "", state: "", place: "", news: false };
/** Kept while the app is open, so that Back comes back to what was looked for. */
const last = { typed: "", filters: NO_FILTER };

const fits = (one: Found, wanted: string[], { shot, department, state, place, news }: Filters): boolean =>
  wanted.every((word) => one.folded.includes(word)) &&
  (!shot || one.shots.has(shot)) &&
  (!department || one.departments.includes(department)) &&
  (!state || one.states.has(state)) &&
  (!place || one.place === place) &&
  (!news || isUnseen(one.key));

function Row({ found, wanted }: { found: Found; wanted: string[] }) {
  const why = found.texts
    .filter(({ said }) => said !== found.title && wanted.some((word) => folded(said).includes(word)))
    .slice(0, 2)
    .map(({ label, said }) => `${label}: ${said}`);
  return (
    <a class="row plain" href={recordLink(found.key)}>
      <span>
        <span class="t">
          {isUnseen(found.key) && <Unseen />}
          <Said>{found.title}</Said>
        </span>
        <span class="n">
          <Said>{words.join_words([kindNamed(kindOf(found.key))?.label ?? "", ...why])}</Said>
        </span>
      </span>
    </a>
  );
}

export function SearchScreen() {
  const [typed, setTyped] = useState(last.typed);
  const [filters, setFilters] = useState(last.filters);
  Object.assign(last, { typed, filters });
  useInView("", "");
  const list = useRef<HTMLDivElement>(null);
  const put = (more: Partial<Filters>) => setFilters({ ...filters, ...more });
  const wanted = folded(typed).split(/\s+/).filter(Boolean);
  const is_asking = wanted.length > 0 || Object.values(filters).some(Boolean);
  const all = everything.value;
  const found = is_asking ? all.filter((one) => fits(one, wanted, filters)) : [];
  // What the words stand in the title of comes first.
  const in_title = (one: Found) => wanted.every((word) => folded(one.title).includes(word));
  const sorted = [...found.filter(in_title), ...found.filter((one) => !in_title(one))].slice(0, SHOWN);
  const places = [...new Set(all.map(({ place }) => place).filter(Boolean))].sort();
  const one = (
    name: "shot" | "department" | "state" | "place",
    options: { value: string; word: string }[],
  ) => (
    <div class="entry">
      <label class="name" for={`find-${name}`}>
        {w[name]}
      </label>
      <Chooser
        id={`find-${name}`}
        options={options}
        chosen={filters[name]}
        nothing={w.any}
        onChoose={(value) => put({ [name]: value })}
      />
    </div>
  );
  const narrowed = Object.values(filters).filter(Boolean).length;
  return (
    <search>
      <Head number={w.title} />
      <div class="entry">
        <label class="name" for="find">
          {w.box}
        </label>
        <input
          id="find"
          type="search"
          dir="auto"
          autocomplete="off"
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key === "ArrowDown" || event.key === "Enter") {
              event.preventDefault();
              list.current?.querySelector("a")?.focus();
            }
          }}
        />
        <span class="told" role="status">
          {is_asking ? w.found(found.length, SHOWN) : w.lead}
        </span>
      </div>
      <Fold title={w.narrow} count={narrowed || ""} is_open={narrowed > 0}>
        {one(
          "shot",
          shots_in_order.value.map(({ shot, sheet }) => ({ value: shot, word: sheet.shot.number })),
        )}
        {one(
          "department",
          kinds_table.value.departments.map(({ name }) => ({ value: name, word: departmentLabel(name) })),
        )}
        {one(
          "state",
          Object.entries(w.states).map(([value, word]) => ({ value, word })),
        )}
        {one(
          "place",
          places.map((place) => ({ value: place, word: place })),
        )}
        <div class="entry">
          <Choices
            label={w.since}
            is_many
            options={[{ value: "news", word: words.bring.feed.unseen }]}
            chosen={filters.news ? ["news"] : []}
            onChoose={(chosen) => put({ news: chosen.length > 0 })}
          />
        </div>
        {narrowed > 0 && (
          <div class="actions btns">
            <button type="button" class="btn" onClick={() => setFilters(NO_FILTER)}>
              {w.widen}
            </button>
          </div>
        )}
      </Fold>
      <div ref={list}>
        {sorted.map((one) => (
          <Row key={one.key} found={one} wanted={wanted} />
        ))}
      </div>
      {is_asking && found.length === 0 && <Empty sentence={w.none} next={w.none_do} />}
      <div class="actions btns">
        <a class="btn" href={link("feed")}>
          {words.bring.feed.title}
        </a>
      </div>
    </search>
  );
}
