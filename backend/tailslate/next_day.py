"""A day made like another: its structure as edits of the server on the new day. No state comes along.

Knows no database. What a copy leaves out of a record is said in `day/copying.py`; here, which records it leaves out.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tailslate.day import copying, edit, gathered, kinds, task_id
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered

# What happened on a day, and health: all of it is that day's own. The crew comes along; who is there joins again.
LEFT_BEHIND = (
    "reading", "request", "hold", "note", "used", "word", "allergy", "verdict", "void", "photograph",
    "incident",
)  # fmt: skip


def edits_of(
    records: dict[str, Any], *, day_id: str, incarnation: str, now_ms: int, seal: Callable[..., Edit]
) -> list[Edit]:
    """Return the edits that make a new day like another, one a record.

    Args:
        records: the other day: record key to field to cell.
        day_id: id of the new day.
        incarnation: random name of this copying, ten of a-z and 0-9.
        now_ms: now [ms since 1970 UTC].
        seal: makes an edit of the server from the arguments of `edit.make` but by, how and salt.
    """
    made: list[Edit] = []
    for key, changes in structure_of(Gathered(records)):
        kind = gathered.kind_of(key)
        record = day_id if kind == "day" else gathered.id_of(key)
        made.append(
            seal(
                day=day_id,
                set_name=kinds.set_of(kind),
                incarnation=incarnation,
                counter=len(made) + 1,
                rules=kinds.RULES,
                at_ms=now_ms,
                kind=kind,
                record=record,
                changes=changes,
                seen={field: [] for field in changes},
            )
        )
    return made


def structure_of(records: Gathered) -> list[tuple[str, dict[str, Any]]]:
    """Return record keys with what a new day takes of them; references to what stays behind are dropped."""
    keys = [
        key
        for kind in kinds.KINDS
        if kind not in LEFT_BEHIND and kinds.set_of(kind) == edit.SETS[0]
        for key in records.of_kind(kind)
        if not task_id.parse(key)
    ]
    taken = [(key, copying.structure(key, records)) for key in keys]
    there = {key for key, changes in taken if changes}
    found = []
    for key, changes in taken:
        kept = {
            field: value
            for field, value in changes.items()
            if all(one in there for one in gathered.pointed_at(gathered.kind_of(key), field, value))
        }
        if kept:
            found.append((key, kept))
    return found
