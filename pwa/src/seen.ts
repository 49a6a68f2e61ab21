// What another department changed for mine and I have not looked at: kept on this phone alone. What is for whom, the rules say.
import { computed, effect, signal } from "@preact/signals";
import { gather, my_departments } from "./day_reads";
import { facts, foreign, membership, recordNow } from "./day_signals";
import { ask } from "./engine/client";
import type { Fields, RecordKey } from "./engine/contract";
import { in_view } from "./in_view";

type Unseen = { day: string; records: RecordKey[] };
const PLACE = "tailslate.unseen";
const unseen = signal<Unseen>({ day: "", records: [] });

const placeOf = (day: string): string => `${PLACE}.${day}`;

function kept(day: string): RecordKey[] {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(placeOf(day)) ?? "[]");
    return Array.isArray(found) ? found.map(String) : [];
  } catch {
    return []; // no localStorage, or a damaged entry: nothing counts as unseen
  }
}

function keep(records: RecordKey[]): void {
  const day = membership.value?.day ?? "";
  unseen.value = { day, records };
  try {
    localStorage.setItem(placeOf(day), JSON.stringify(records));
  } catch (error) {
    console.warn("localStorage did not take what is unseen", error);
  }
}

const unseen_set = computed(() => new Set(unseen.value.records));
/** Whether another department changed it for mine since it was looked at. */
export const isUnseen = (record: RecordKey): boolean => unseen_set.value.has(record);
export const unseen_count = computed(() => unseen.value.records.length);

export function looked(...records: RecordKey[]): void {
  const left = unseen.peek().records.filter((one) => !records.includes(one));
  if (left.length < unseen.peek().records.length) keep(left);
}
export const lookedAtAll = (): void => keep([]);

async function hear(cells: [RecordKey, string, string][]): Promise<void> {
  const records: { [key: RecordKey]: Fields } = gather(["person"]);
  for (const [key] of cells) records[key] = recordNow(key) ?? {};
  const answer = await ask({ do: "news", cells, records, mine: my_departments.peek() });
  if (!answer.ok) throw new Error(answer.sentence);
  const { records: before } = unseen.peek();
  keep([...new Set([...before, ...(answer.records as RecordKey[])])]);
}

/** Follow what arrives. Called once, by the app. */
export function followUnseen(): void {
  effect(() => {
    const day = membership.value?.day ?? "";
    if (day !== unseen.peek().day) unseen.value = { day, records: kept(day) };
  });
  effect(() => {
    const cells = foreign.value;
    if (!cells.length || !facts.peek()?.matched_ms) return; // the first reading of the day is no news
    hear(cells).catch((error: unknown) => console.error("news were not told apart", error));
  });
  effect(() => looked(in_view.value.record));
}
