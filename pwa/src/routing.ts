// Where the person is: read from the address after "#/", so that Back, links and a reload all work without a server.
import { signal } from "@preact/signals";

export type Place = { screen: string; parts: string[]; about: URLSearchParams };

function read(): Place {
  const [path = "", query = ""] = location.hash.startsWith("#/") ? location.hash.slice(2).split("?") : [];
  const [screen = "", ...parts] = path.split("/").map(decodeURIComponent);
  return { screen: screen || "day", parts, about: new URLSearchParams(query) };
}

export const place = signal<Place>(read());
/** How many steps this app has made: whether Back stays inside it. */
let steps = 0;

export function link(screen: string, parts: string[] = [], about: { [name: string]: string } = {}): string {
  const query = new URLSearchParams(Object.entries(about).filter(([, value]) => value)).toString();
  return `#/${[screen, ...parts].map(encodeURIComponent).join("/")}${query ? `?${query}` : ""}`;
}

export const go = (where: string): void => {
  location.hash = where;
};

/** Go somewhere and leave no step behind: a form that is done, a joined day. */
export function goInstead(where: string): void {
  history.replaceState(null, "", `/${where}`);
  place.value = read();
}

/**
 * Where to go on to once what was begun here is done: nowhere when the person has gone elsewhere meanwhile.
 * Taken before the first await.
 */
export function onward(step: (where: string) => void = goInstead): (where: string) => void {
  const begun = location.hash;
  return (where) => {
    if (location.hash === begun) step(where);
  };
}

const MAIN_SCREENS = ["day", "shot", "list", "set", "board"];
/** One of the words at the foot: nobody goes back from there. */
export const isMain = ({ screen }: Place): boolean => MAIN_SCREENS.includes(screen);

export function back(): void {
  if (steps > 0) history.back();
  else goInstead(link("day"));
}

/** Link to a record's editor, or to the screen that its kind has of its own. */
export function recordLink(record: string, about: { [name: string]: string } = {}): string {
  const [kind = "", id = ""] = record.split("/");
  if (kind === "shot") return link("shot", [id]);
  if (kind === "hold" || kind === "request" || kind === "photograph") return link(kind, [id]);
  return link("record", [kind, id], about);
}

addEventListener("hashchange", () => {
  steps += 1;
  place.value = read();
});
addEventListener("popstate", () => {
  place.value = read();
});

/** The code of a join link (https://host/join#CODE), or "". */
export function codeInAddress(): string {
  return location.pathname === "/join" && !location.hash.startsWith("#/")
    ? decodeURIComponent(location.hash.slice(1))
    : "";
}
