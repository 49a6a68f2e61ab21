// Rows of a shot with what the rules fold kept under its stand, glass or circuit. What is folded stays so while the screen is open.
import { useRef } from "preact/hooks";
import { Fold, saidOnce } from "../../parts/blocks";
import type { Row } from "../../sheet_types";
import { words } from "../../words";
import { Ticking } from "./ticking";

const rowKey = (row: Row): string => `${row.record}/${row.field}`;

export const RowsOf = ({ rows }: { rows: Row[] }) =>
  saidOnce(rows).map((row) => <Ticking key={rowKey(row)} row={row} />);

export function FoldedRows({ rows }: { rows: Row[] }) {
  const first = useRef<Map<string, string> | null>(null);
  first.current ??= new Map(
    rows.filter((row) => row.is_folded).map((row) => [rowKey(row), row.fold?.title ?? words.list.more]),
  );
  const under = first.current;
  const titles = [...new Set(rows.flatMap((row) => under.get(rowKey(row)) ?? []))];
  return (
    <>
      <RowsOf rows={rows.filter((row) => !under.has(rowKey(row)))} />
      {titles.map((title) => {
        const inside = rows.filter((row) => under.get(rowKey(row)) === title);
        return (
          <Fold key={title} title={title} count={inside.length}>
            <RowsOf rows={inside} />
          </Fold>
        );
      })}
    </>
  );
}
