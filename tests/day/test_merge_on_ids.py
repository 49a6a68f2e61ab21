"""The phone merges ids as numbers; the day that comes of it is the one that whole edits give."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailslate.day import edit as edits
from tailslate.day import merge

DAY = "d7k2"
FIELDS = (("task", "done"), ("source", "throw_m"), ("task", "title"))


def an_edit(counter: int, kind: str, field: str, value: Any, seen: list[str], at_ms: int) -> edits.Edit:
    return edits.make(
        day=DAY, set_name="floor", incarnation="a1b2c3d4e5", counter=counter, salt="Zk3v9Q1x", rules=1,
        at_ms=at_ms, by="p-grip", kind=kind, record="r-1", changes={field: value}, seen={field: seen},
    )  # fmt: skip


@st.composite
def histories(draw: st.DrawFn) -> list[edits.Edit]:
    """Edits of three fields, each of which saw some of the earlier ones of its field; in any order, some twice."""
    made: list[edits.Edit] = []
    for counter in range(1, draw(st.integers(2, 14))):
        kind, field = draw(st.sampled_from(FIELDS))
        value = {"done": draw(st.sampled_from([False, ["done", []]])), "throw_m": ["1.5", "1.5 m"]}.get(
            field, f"title {counter}"
        )
        earlier = [one.id for one in made if one.changes[0][0] == field]
        seen = draw(st.lists(st.sampled_from(earlier), unique=True, max_size=3)) if earlier else []
        made.append(an_edit(counter, kind, field, value, seen, draw(st.integers(1, 5))))
    kept = [one for one in made if draw(st.integers(0, 9))]  # one in ten never arrives
    return draw(st.permutations(kept + kept[:2]))


def joined_on_numbers(call: Callable[[str], str], batch: list[edits.Edit]) -> merge.Cells:
    """What the phone's engine does: number the ids, join, put the ids back, ask who is shown."""
    numbers: dict[str, int] = {}
    entries = {
        one.id: [one.id, one.changes[0][1], one.at_ms, one.by, one.for_whom, one.how, one.rules]
        for one in batch
    }
    names = sorted({f"{one.record_key}/{one.changes[0][0]}" for one in batch})
    asked = [
        [
            names.index(f"{one.record_key}/{field}"),
            numbers.setdefault(one.id, len(numbers)),
            [numbers.setdefault(i, len(numbers)) for i in seen],
        ]
        for one in batch
        for field, _value, seen in one.changes
    ]
    answer = json.loads(
        call(json.dumps({"do": "join_ids", "cells": [[[], [], []] for _ in names], "edits": asked}))
    )
    ids = list(numbers)
    several: dict[str, Any] = {}
    cells: merge.Cells = {}
    for name, parts in zip(names, answer["cells"], strict=True):
        live, gone, absent = ([ids[number] for number in part] for part in parts)
        cells[name] = [0, [entries[i] for i in live], sorted(gone), sorted(absent), []]
        if len(live) > 1:
            several[name] = [entry[:3] for entry in cells[name][1]]
    for name, (mark, live) in json.loads(call(json.dumps({"do": "shown", "cells": several})))[
        "cells"
    ].items():
        cells[name][:2] = [mark, [entries[i] for i in live]]
    return cells


@given(batch=histories())
def test_m1_ids_as_numbers_give_the_cells_that_whole_edits_give(batch: list[edits.Edit]) -> None:
    from tailslate.day.phone_door import call

    assert joined_on_numbers(call, batch) == merge.join({}, batch)


def test_m1_the_phone_joins_numbers_as_the_server_does(phone_door: Callable[[str], str]) -> None:
    first = an_edit(1, "task", "done", ["done", []], [], 2)
    second = an_edit(2, "task", "done", False, [first.id], 1)
    other = an_edit(3, "task", "done", ["done", []], [first.id], 3)
    for batch in ([first, second, other], [other, second, first, first], [second, other]):
        assert joined_on_numbers(phone_door, batch) == merge.join({}, batch)


@pytest.mark.parametrize(
    ("kind", "field", "value", "waits"),
    [
        ("hold", "cleared", ["done", []], True),
        ("hold", "cleared", False, False),
        ("hold", "why", "loose clamp", False),
        ("verdict", "says", ["out", "", ""], False),
        ("person", "name", "a grip", True),
    ],
)
def test_the_phone_asks_which_acts_wait_for_a_server(
    kind: str, field: str, value: Any, waits: bool, phone_door: Callable[[str], str]
) -> None:
    answer = json.loads(phone_door(json.dumps({"do": "reserved", "acts": [[kind, [[field, value, []]]]]})))
    assert answer["reserved"] == [waits]
