"""Which open rows a department sees of a shot, and which are folded by stand, glass or circuit. Rows -> folds.

Knows no trade. A working list of more than about seven open rows is not read (common practice, no source).
O1 what asks again or has two answers is shown first, then what must be done, and of these what waits for no other
row. O2 a fold shows one row at a time. O3 folding moves no row: it only marks it.
"""

from tailslate.day import ticks
from tailslate.day.keys import joined

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

SHOWN = 7
REST = {"key": "more", "title": "More"}


def fold(rows: "list[dict[str, Any]]") -> "dict[str, list[dict[str, Any]]]":
    """Mark the rows that are folded, and return what they are folded into.

    Args:
        rows: rows of one shot, in their order; `is_folded` is set on each.
    Returns: department to list of dict, keys key, title, count; departments without a fold are left out.
    """
    of_department: dict[str, list[dict[str, Any]]] = {}
    for row in rows:
        row["is_folded"] = False
        if row["state"] in (ticks.OPEN, ticks.AGAIN, ticks.TWO):
            of_department.setdefault(row["department"], []).append(row)
    found = {}
    for department in of_department:
        made = _department(of_department[department])
        if made:
            found[department] = made
    return found


def _department(rows: "list[dict[str, Any]]") -> "list[dict[str, Any]]":
    open_ticks = {joined(row["record"], row["field"]) for row in rows}
    first = sorted([_rank(row, open_ticks) + (place,) for place, row in enumerate(rows)])
    in_use: set[str] = set()
    count = 0
    for ranked in first:
        row = rows[ranked[-1]]
        key = row["fold"]["key"] if row["fold"] else ""
        if count < SHOWN and (not key or key not in in_use):
            count += 1
            in_use.add(key)
        else:
            row["is_folded"] = True
    return _counted(rows)


def _rank(row: "dict[str, Any]", open_ticks: "set[str]") -> "tuple[int, int, int]":
    """Return how early a row is shown: what asks, must or nice and when, what waits for another, its own tick first."""
    derived = row["derived"]
    waits = [one for one in derived["needs"] if one in open_ticks] if derived else []
    return _asks(row), 1 if waits else 0, 1 if derived and row["field"] == "done" else 0


def _asks(row: "dict[str, Any]") -> int:
    if row["state"] in (ticks.AGAIN, ticks.TWO):
        return 0 if row["must"] else 1
    if row["must"]:
        return 2
    return 4 if row["derived"] and row["derived"]["when"] != "before" else 3


def _counted(rows: "list[dict[str, Any]]") -> "list[dict[str, Any]]":
    folds: list[dict[str, Any]] = []
    at: dict[str, dict[str, Any]] = {}
    for row in rows:
        if row["is_folded"]:
            into = row["fold"] or REST
            if into["key"] not in at:
                at[into["key"]] = {"key": into["key"], "title": into["title"], "count": 0}
                folds.append(at[into["key"]])
            at[into["key"]]["count"] += 1
    return folds
