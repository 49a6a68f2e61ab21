// The table that forms are made from, as the rules give it; kept from the last time so that words are there at once.
import { signal } from "@preact/signals";
import { ask } from "./engine/client";
import type { DepartmentRow, FieldRow, KindRow, KindsTable } from "./sheet_types";

const PLACE = "tailslate.kinds";
const NOTHING: KindsTable = { rules: 0, kinds: [], departments: [] };

function kept(): KindsTable {
  try {
    return { ...NOTHING, ...JSON.parse(localStorage.getItem(PLACE) ?? "{}") };
  } catch {
    return NOTHING; // the rules will answer in a moment
  }
}

export const kinds_table = signal<KindsTable>(kept());

/** Ask the rules for the table. Resolves when they are up. */
export async function loadKinds(): Promise<void> {
  const answer = await ask({ do: "kinds" });
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.sentence}`);
  const { rules, kinds, departments } = answer as unknown as KindsTable;
  const text = JSON.stringify({ rules, kinds, departments });
  if (text === JSON.stringify(kinds_table.value)) return;
  kinds_table.value = { rules, kinds, departments };
  try {
    localStorage.setItem(PLACE, text);
  } catch (error) {
    console.warn("localStorage did not take the table of kinds", error);
  }
}

export const kindNamed = (name: string): KindRow | undefined =>
  kinds_table.value.kinds.find((kind) => kind.name === name);

export const fieldNamed = (kind: string, field: string): FieldRow | undefined =>
  kindNamed(kind)?.fields.find((one) => one.name === field);

export function departmentNamed(name: string): DepartmentRow {
  const found = kinds_table.value.departments.find((one) => one.name === name);
  if (found) return found;
  const label = name.replaceAll("_", " ");
  return { name, label, short: label.slice(0, 4) };
}

export const departmentLabel = (name: string): string => (name ? departmentNamed(name).label : "");
