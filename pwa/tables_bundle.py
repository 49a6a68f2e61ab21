"""The shipped tables as the phone gets them: of each row its name and the figures that a record takes from it."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

REPOSITORY = Path(__file__).resolve().parent.parent
GENERATED = REPOSITORY / "pwa" / "generated"
SHIPPED = ("lamps", "stands", "batteries", "materials", "beverages")
PICKED = ("lamps", "beverages", "stand")  # tables, and a kind of row, from which a person picks
KEPT = ("id", "kind", "name", "passes_for", "allergens_eu", "allergens_us", "may_hold", "fitting")


def tables(backend: Path = REPOSITORY / "backend") -> dict[str, list[dict[str, Any]]]:
    """Return rows by table, so that `tables.taken` gives the same of them as of the whole rows.

    Only what a person picks from and what a starting point names; of a lamp its first fitting and those named.
    """
    sys.path.insert(0, str(backend))
    from tailslate.day import starting_points
    from tailslate.day import tables as rules

    named, fittings = starting_points.rows_named()
    shipped: dict[str, list[dict[str, Any]]] = {}
    for table in SHIPPED:
        file = REPOSITORY / "seed_data" / f"{table}.json"
        shipped[table] = []
        for row in json.loads(file.read_text(encoding="utf-8"))["rows"]:
            copies = rules.copied(table, row)
            if copies is None or not (row["id"] in named or {table, row.get("kind")} & set(PICKED)):
                continue
            short = _short(row, copies)
            if table == "lamps":
                short["fittings"] = [
                    _short(one, rules.OF_FITTING)
                    for place, one in enumerate(row["fittings"])
                    if place == 0 or (row["id"], one["fitting"]) in fittings
                ]
            shipped[table].append(short)
    return shipped


def _short(row: dict[str, Any], copies: Any) -> dict[str, Any]:
    kept = {name: row[name] for name in KEPT if name in row}
    for _field, figure, end in copies:
        held = row.get(figure)
        if isinstance(held, dict) and held.get(end, held.get("value")) is not None:
            kept.setdefault(figure, {})[end if end in held else "value"] = held.get(end, held.get("value"))
    return kept


def write_tables() -> None:
    """Write what the front end's build imports."""
    GENERATED.mkdir(exist_ok=True)
    text = json.dumps(tables(), ensure_ascii=False, separators=(",", ":"))
    (GENERATED / "tables.json").write_text(text, encoding="utf-8")
