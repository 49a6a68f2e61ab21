// What this person set on this phone alone: light of the screen, units, whose lists it shows. Never part of the day.
import { effect, signal } from "@preact/signals";

export const MODES = ["dark", "night", "day"] as const;
export type Mode = (typeof MODES)[number];
export type Units = "metric" | "imperial";
type Kept = { mode: Mode; units: Units; departments: string[] | null };

const PLACE = "tailslate.preferences";
const GROUND: { [mode in Mode]: string } = { dark: "#0d0c0a", night: "#000000", day: "#fbf8f1" };

function read(): Partial<Kept> {
  try {
    return JSON.parse(localStorage.getItem(PLACE) ?? "{}");
  } catch {
    return {}; // no localStorage, or a damaged entry: the usual values do
  }
}

const kept = read();
export const mode = signal<Mode>(MODES.find((one) => one === kept.mode) ?? "dark");
export const units = signal<Units>(kept.units === "imperial" ? "imperial" : "metric");
/** The departments chosen here; null follows the person's own record. */
export const chosen_departments = signal<string[] | null>(
  Array.isArray(kept.departments) ? kept.departments : null,
);

export const nextMode = (): void => {
  mode.value = MODES[(MODES.indexOf(mode.value) + 1) % MODES.length] as Mode;
};

effect(() => {
  const now: Kept = { mode: mode.value, units: units.value, departments: chosen_departments.value };
  document.documentElement.dataset.mode = now.mode;
  document.querySelector('meta[name="theme-color"]')?.setAttribute("content", GROUND[now.mode]);
  try {
    localStorage.setItem(PLACE, JSON.stringify(now));
  } catch (error) {
    console.warn("localStorage did not take the preferences", error);
  }
});
