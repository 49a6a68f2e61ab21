"""No sentence of a sheet calls anything by an identifier, whatever is missing, wrong or disputed; and none lacks its caution."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from typing import Any

import pytest

from a_day import ADay, Door
from people import DAY, GAFFER, KEY_GRIP
from tailslate import demonstration
from tailslate.day import kinds, merge

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


def a_demonstration_day() -> ADay:
    """The demonstration day, for acts to be added to."""
    made = demonstration.edits_of(
        demonstration.plan(), day_id=DAY, incarnation="demo000001",
        salts=(f"{number:08d}" for number in itertools.count()), now_ms=1_764_079_920_000,
    )  # fmt: skip
    floor = [one for one in made if one.kind != "verdict" and one.set == "floor"]
    words = merge.verdict_words([one for one in made if one.kind == "verdict"])
    day = ADay()
    for name, cell in merge.fold(floor, words).items():
        key, field = name.rsplit("/", 1)
        day.records.setdefault(key, {})[field] = cell
    return day


SHOTS = ("12a", "12b", "12c", "12d", "12e", "13a")
READ_BY_SHEETS = (
    "shot", "setup", "source", "layer", "level", "reading", "point", "dressing", "serves", "drink", "ingredient",
    "food", "mark", "taping", "rig", "circuit", "kit",
)  # fmt: skip


def answers(day: ADay, door: Door, shots: tuple[str, ...] = SHOTS) -> Iterator[tuple[str, Any]]:
    """Each shot's sheet, readiness and work, and the ways out of too little light."""
    for shot in shots:
        for units in ("metric", "imperial") if shots == SHOTS else ("metric",):
            found = day.ask(door, shot=shot, units=units, now_ms=1_764_079_920_000)
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
    from tailslate.day.phone_door import call

    day = a_demonstration_day()
    known = kinds.KINDS[kind]
    for key in [one for one in day.records if one.startswith(f"{kind}/")]:
        quantities = {
            field.name: None
            for field in known.fields
            if field.type in ("quantity", "count") and field.name in day.records[key]
        }
        if quantities:
            day.act(KEY_GRIP, kind, key.split("/")[1], **quantities)
    assert identifiers(day, call) == []


@pytest.mark.parametrize("kind", READ_BY_SHEETS)
def test_figures_at_their_least_and_disputed_ones_speak_plainly(kind: str) -> None:
    from tailslate.day.phone_door import call

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
