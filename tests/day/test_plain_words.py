"""No sentence of a sheet calls anything by an identifier, whatever is missing, wrong or disputed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from a_day import ADay, Door
from demonstration_day import NOW_MS, READ_BY_SHEETS, SHOTS, a_demonstration_day, without_figures
from people import GAFFER
from tailslate.day import kinds
from tailslate.day.phone_door import call

IDENTIFIER = re.compile(r"[A-Za-z]+_[A-Za-z_]+")
# What programs read: keys of records and fields, codes, ids, states. Everything else is shown to people.
FOR_PROGRAMS = {
    "acts", "at", "bounces_from", "by", "cell", "code", "department", "departments", "derived", "dressing", "field", "fields",
    "fold", "for_whom", "from", "id", "ids", "key", "kind", "level", "lit_at", "needs", "painted", "point", "reads",
    "record", "source", "state", "to", "type", "value", "value_if_ticked", "value_if_cleared", "way", "what",
}  # fmt: skip


def said(part: Any, where: str = "") -> Iterator[tuple[str, str]]:
    """Every text of an answer that people may read, with where it stands."""
    if isinstance(part, dict):
        for name, one in part.items():
            if name not in FOR_PROGRAMS or (
                isinstance(one, dict | list) and name in ("source", "point", "level")
            ):
                yield from said(one, f"{where}/{name}")
    elif isinstance(part, list):
        for one in part:
            yield from said(one, where)
    elif isinstance(part, str):
        yield where, part


def answers(day: ADay, door: Door, shots: tuple[str, ...] = SHOTS) -> Iterator[tuple[str, Any]]:
    """Each shot's sheet, readiness and work, and the ways out of too little light."""
    for shot in shots:
        for units in ("metric", "imperial") if shots == SHOTS else ("metric",):
            found = day.ask(door, shot=shot, units=units, now_ms=NOW_MS)
            yield shot, {name: found[name] for name in ("sheet", "readiness", "work")}
        for setting in found["sheet"]["light"]["settings"]:
            yield shot, day.ask(door, "ways", shot=shot, level=setting["level"])["ways"]


def identifiers(day: ADay, door: Door, shots: tuple[str, ...] = ("12c", "13a")) -> list[str]:
    return sorted(
        {
            f"{where}: {text}"
            for _shot, found in answers(day, door, shots)
            for where, text in said(found)
            if IDENTIFIER.search(text)
        }
    )


def test_the_demonstration_day_speaks_plainly(phone_door: Door) -> None:
    assert identifiers(a_demonstration_day(), phone_door, SHOTS) == []


@pytest.mark.parametrize("kind", READ_BY_SHEETS)
def test_a_day_of_which_nobody_filled_in_the_figures_speaks_plainly(kind: str) -> None:
    day = without_figures(a_demonstration_day(), kind)
    assert identifiers(day, call) == []


@pytest.mark.parametrize("kind", READ_BY_SHEETS)
def test_figures_at_their_least_and_disputed_ones_speak_plainly(kind: str) -> None:
    for end in ("low", "high"):
        day = a_demonstration_day()
        for key in [one for one in day.records if one.startswith(f"{kind}/")]:
            values = {
                field.name: [str(getattr(field, end)), "x"]
                for field in kinds.KINDS[kind].fields
                if field.type == "quantity"
            }
            day.act(GAFFER, kind, key.split("/")[1], alone=end == "high", **values)
        assert identifiers(day, call) == []
