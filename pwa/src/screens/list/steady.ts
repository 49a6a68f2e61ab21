// A list that holds still: its order and folds are fixed while it is open; what came in waits as "2 new, show".
import { useRef, useState } from "preact/hooks";
import type { ListGroup, Row } from "../../sheet_types";
import { touchedSince, useQuiet } from "../../touch";

export const rowKey = (row: Row): string => `${row.record}/${row.field}`;

/** The fold of what has none of its own, as day/folds.py names it. */
const REST = "more";

type Folded<R> = { key: string; title: string; rows: R[] };
type Laid = { shot: string; open: string[]; folds: Folded<string>[]; done: string[]; off: string[] };

/** The rules say which open rows are folded, and under what; what is done and what is no longer asked is folded too. */
function layOut(groups: ListGroup[]): Laid[] {
  return groups.map(({ shot, rows, folds }) => {
    const keys = (wanted: (row: Row) => boolean) => rows.filter(wanted).map(rowKey);
    const asking = rows.filter((row) => row.state === "again" || row.state === "two");
    const left = [...asking, ...rows.filter((row) => row.state === "open")];
    const folded = left.filter((row) => row.is_folded);
    return {
      shot,
      open: left.filter((row) => !row.is_folded).map(rowKey),
      folds: folds.map(({ key, title }) => ({
        key,
        title,
        rows: folded.filter((row) => (row.fold?.key ?? REST) === key).map(rowKey),
      })),
      done: keys((row) => row.state === "done"),
      off: keys((row) => row.state === "off"),
    };
  });
}

const allKeys = (laid: Laid[]): string[] =>
  laid.flatMap(({ shot, open, folds, done, off }) =>
    [...open, ...folds.flatMap(({ rows }) => rows), ...done, ...off].map((key) => `${shot} ${key}`),
  );

export type SteadyGroup = { group: ListGroup; open: Row[]; folds: Folded<Row>[]; done: Row[]; off: Row[] };

/**
 * The groups as first laid out, each row with its newest words.
 * `is_still` holds even those (a shot is rolling); `is_growing`: the rules are still putting it together.
 */
export function useSteady(groups: ListGroup[], is_still: boolean, is_growing: boolean) {
  const calm = useQuiet(groups, is_still);
  const [laid_anew, setLaidAnew] = useState(0);
  const held = useRef<{ anew: number; laid: Laid[]; rows: Map<string, Row> } | null>(null);
  const opened_ms = useRef(performance.now());
  // Before the first touch a list that is still being put together has no thumb over it.
  const was_growing = useRef(true);
  const is_filling =
    (was_growing.current || held.current?.laid.length === 0) && !touchedSince(opened_ms.current);
  was_growing.current &&= is_growing;
  if (!held.current || is_filling || held.current.anew !== laid_anew) {
    held.current = { anew: laid_anew, laid: layOut(groups), rows: new Map() };
  }
  const { laid, rows } = held.current;
  const source = rows.size ? calm : groups;
  for (const { shot, rows: newest } of source) {
    for (const row of newest) rows.set(`${shot} ${rowKey(row)}`, row);
  }
  const there = new Set(allKeys(laid));
  const incoming = new Set(allKeys(layOut(groups)));
  const waiting =
    [...incoming].filter((key) => !there.has(key)).length +
    [...there].filter((key) => !incoming.has(key)).length;
  const steady = laid.flatMap((one): SteadyGroup[] => {
    const group = groups.find(({ shot }) => shot === one.shot);
    const pick = (keys: string[]) =>
      keys.flatMap((key) => {
        const row = rows.get(`${one.shot} ${key}`);
        return row ? [row] : [];
      });
    const folds = one.folds.map((fold) => ({ ...fold, rows: pick(fold.rows) }));
    const shown = { open: pick(one.open), folds, done: pick(one.done), off: pick(one.off) };
    return group ? [{ group, ...shown }] : [];
  });
  return { steady, waiting, show: () => setLaidAnew(laid_anew + 1) };
}
