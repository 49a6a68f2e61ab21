"""A day as tables for a spreadsheet: shots, tasks, drinks, or every field of every record. Rows of texts and numbers.

A figure is a number in the unit that its column names; what people read of it stands beside it as text.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Any

from tailslate.craft.rounding import plain_text
from tailslate.day import gathered, kinds, names, report, rows, shown
from tailslate.day.check import DECIMAL
from tailslate.day.gathered import Gathered
from tailslate.day.place_clock import ahead_min
from tailslate.pack.cells import Cell
from tailslate.pack.whole_day import WholeDay

Row = list[Cell]

SHOT_FIELDS = (
    "t_stop", "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "takes",
)  # fmt: skip
DRINK_FIELDS = ("fill_l", "glasses", "spares", "resets", "takes_planned", "performers", "swallowed_l")


def of_day(day: WholeDay, what: str) -> list[Row]:
    """Return a table with its heads.

    Args:
        day: the day.
        what: one of TABLES.
    """
    return list(TABLES[what](day))


def _number(held: Any) -> Cell:
    """Return a quantity or a count as a number, "" when it is not known."""
    if isinstance(held, bool):
        return ""
    if isinstance(held, int):
        return held
    if isinstance(held, list) and len(held) == 2 and isinstance(held[0], str) and DECIMAL.match(held[0]):
        return Decimal(held[0])
    return ""


def _heads(kind: str, fields: tuple[str, ...]) -> list[Cell]:
    made: list[Cell] = []
    for name in fields:
        known = kinds.field_of(kind, name)
        made.append(
            f"{known.label} [{known.unit}]" if known and known.unit else known.label if known else name
        )
    return made


def _said(key: str, field: str, found: Gathered) -> str:
    said = names.answers(key, field, found)
    return "" if said == shown.NOT_KNOWN else said


def _shots(day: WholeDay) -> Iterator[Row]:
    yield [
        "shot",
        "title",
        "scene",
        "phase",
        "state",
        "what stands first",
        *_heads("shot", SHOT_FIELDS),
        "key to fill",
        "note",
    ]
    for one in day.shots:
        key, found = one.sheet["shot"]["record"], one.sheet["shot"]
        scene, contrast = one.records.target(key, "scene"), one.sheet["light"]["key_to_fill"]
        yield [
            found["number"],
            found["title"],
            one.records.text(scene, "number") if scene else "",
            shown.value("shot", "phase", found["phase"]) if found["phase"] else "",
            one.readiness["word"],
            one.readiness["sentence"],
            *(_number(one.records.value(key, field)) for field in SHOT_FIELDS),
            contrast["shown"] if contrast else "",
            _said(key, "note", one.records),
        ]


def _tasks(day: WholeDay) -> Iterator[Row]:
    yield [
        "shot",
        "department",
        "task",
        "amount",
        "unit",
        "must or nice",
        "state",
        "last by",
        "at",
        "caution",
        "record",
    ]
    for one in day.shots:
        for row in rows.all_rows(one.sheet["rows"]):
            yield [
                one.sheet["shot"]["number"],
                str(names.DEPARTMENT_LABELS.get(row["department"], row["department"])),
                row["title"],
                row["amount"],
                row["unit"],
                "must" if row["must"] else "nice",
                row["word"] or "open",
                _department(row, day),
                _moment(row["at_ms"], day),
                row["caution"]["sentence"] if row["caution"] else "",
                row["record"],
            ]


def _department(row: dict[str, Any], day: WholeDay) -> str:
    """Return the department that ticked: ordinary ticks name no person."""
    if not row["at_ms"]:
        return ""
    return names.who(["", None, row["at_ms"], row["by"], row["for_whom"], row["how"], 0], day.found)


def _drinks(day: WholeDay) -> Iterator[Row]:
    yield [
        "drink",
        "scene",
        "mixed from",
        "glass",
        *_heads("drink", DRINK_FIELDS),
        "allergens",
        "allergy round",
        "used so far [l]",
    ]
    for key in day.found.of_kind("drink"):
        scene = day.found.target(key, "scene")
        row = rows.row(key, "round_done", day.found)
        used_l, is_whole = report.used_up(key, "amount_l", day.found)
        yield [
            names.name_of(key, day.found),
            day.found.text(scene, "number") if scene else "",
            _said(key, "mixed_from", day.found),
            _said(key, "glass", day.found),
            *(_number(day.found.value(key, field)) for field in DRINK_FIELDS),
            names.answers(key, "allergens", day.found),
            row["word"] or "not done",
            Decimal(plain_text(used_l)) if is_whole else "",
        ]


def _records(day: WholeDay) -> Iterator[Row]:
    """Give every field of every record that is on the day; two answers take two rows."""
    yield ["record", "called", "field", "label", "number", "unit", "as people read it", "last by", "at"]
    for key in sorted(day.records):
        kind = gathered.kind_of(key)
        if kind in ("verdict", "void") or not day.found.is_there(key):
            continue
        for field in sorted(day.records[key]):
            known = kinds.field_of(kind, field)
            cell = day.found.cell(key, field)
            for entry in cell[1] if cell and (not known or known.type not in ("presence", "cells")) else []:
                held = entry[gathered.VALUE]
                yield [
                    key,
                    names.name_of(key, day.found),
                    field,
                    known.label if known else "made with a newer version",
                    _number(held),
                    known.unit if known else "",
                    "" if held is None else names.value_words(key, field, held, day.found),
                    names.who(entry, day.found),
                    _moment(entry[gathered.AT_MS], day),
                ]


def _moment(at_ms: int, day: WholeDay) -> str:
    """Return a moment as ISO 8601 on the place's clock, "" when it is not known."""
    if not at_ms:
        return ""
    clock = datetime.timezone(datetime.timedelta(minutes=ahead_min(at_ms, day.offset)))
    try:
        return datetime.datetime.fromtimestamp(at_ms // 1000, clock).isoformat(timespec="seconds")
    except (OverflowError, ValueError, OSError):  # a phone's clock may claim any time
        return f"{at_ms} ms since 1970 UTC"


TABLES: dict[str, Callable[[WholeDay], Iterator[Row]]] = {
    "shots": _shots,
    "tasks": _tasks,
    "drinks": _drinks,
    "records": _records,
}
