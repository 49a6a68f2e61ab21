"""A day as one file: what is damaged is named by its place, and nothing of it is taken without a word."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from people import DAY, Pen
from tailslate.craft.errors import RuleError
from tailslate.day import day_file, merge
from tailslate.day.edit import Edit

COUNT = 12


def some_edits(count: int = COUNT) -> list[Edit]:
    """Edits of one writer: so many shots with a title."""
    pen = Pen(by="p-grip", incarnation="filepen000")
    return [pen.write("shot", f"s-{place}", {"title": f'Shot "{place}"'}) for place in range(count)]


def a_file(edits: list[Edit]) -> dict[str, Any]:
    """The file of a day that holds them."""
    return day_file.whole(DAY, "Night Crossing", {"floor": [one.text for one in edits]})


def head_of(found: dict[str, Any]) -> dict[str, Any]:
    """What the rules are told of a file before its edits."""
    return {**found, "sets": {name: len(texts) for name, texts in found["sets"].items()}}


def page_of(found: dict[str, Any], judged: dict[str, str] | None = None) -> tuple[list[Any], list[Any]]:
    """Read the floor of a file."""
    return day_file.read_page(
        found["sets"]["floor"],
        day=DAY,
        part="floor",
        digests=day_file.digests_of(found, "floor"),
        judged=judged or {},
    )


def test_a_whole_file_gives_back_every_edit() -> None:
    edits = some_edits()
    found = json.loads(json.dumps(a_file(edits)))
    assert day_file.read_head(head_of(found), day=DAY) == []
    taken, faults = page_of(found)
    assert [one.id for one in taken] == [one.id for one in edits]
    assert faults == []


@settings(max_examples=60)
@given(order=st.permutations(range(COUNT)), twice=st.lists(st.integers(0, COUNT - 1), max_size=COUNT))
def test_f1_taking_a_file_in_twice_adds_nothing(order: list[int], twice: list[int]) -> None:
    edits = some_edits()
    once = merge.join({}, page_of(a_file(edits))[0])
    again, faults = page_of(a_file([edits[place] for place in [*order, *twice]]))
    assert faults == []
    assert merge.join(once, again) == once


@settings(max_examples=60)
@given(place=st.integers(0, COUNT - 1), letter=st.sampled_from("abcXYZ0 9"))
def test_f2_a_changed_edit_is_named_and_the_rest_is_whole(place: int, letter: str) -> None:
    found = a_file(some_edits())
    text = found["sets"]["floor"][place]
    found["sets"]["floor"][place] = text.replace("Shot", "Sho" + letter)
    taken, faults = page_of(found)
    assert [(one["part"], one["place"], one["code"]) for one in faults] == [("floor", place + 1, "changed")]
    assert [at for at, one in enumerate(taken) if one is None] == [place]


@settings(max_examples=80)
@given(cut=st.integers(1, 4000))
def test_a_file_that_was_cut_off_says_so_and_keeps_its_whole_edits(cut: int) -> None:
    text = json.dumps(a_file(some_edits()))
    cut = min(cut, len(text) - 1)
    closed = day_file.closed(text[:cut])
    try:
        found = json.loads(closed)
    except ValueError:
        assert '"sets"' not in text[:cut] or closed == ""  # nothing of an edit is there yet
        return
    kept = len(found["sets"]["floor"])
    faults = day_file.read_head(head_of(found), day=DAY)
    assert [one["code"] for one in faults] == ([] if kept == COUNT else ["cut_off"])
    assert page_of(found)[1] == []


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"file": "tailslate-day-2"}, "file_newer"),
        ({"file": "something"}, "not_a_day"),
        ({"day": "another"}, "another_day"),
        ({"title": 3}, "file_damaged"),
        ({"sets": "none"}, "file_damaged"),
    ],
)
def test_what_is_no_file_of_this_day_is_refused_with_what_to_do(change: dict[str, Any], code: str) -> None:
    with pytest.raises(RuleError) as refused:
        day_file.read_head({**head_of(a_file(some_edits())), **change}, day=DAY)
    assert refused.value.code == code
    assert ";" in refused.value.sentence  # what is wrong; what to do


def test_a_set_that_may_not_be_held_here_is_left_out() -> None:
    head = head_of(day_file.whole(DAY, "Night Crossing", {"floor": [], "health": []}))
    faults = day_file.read_head(head, day=DAY, sets=("floor",))
    assert [(one["part"], one["code"]) for one in faults] == [("health", "not_for_this_phone")]


def test_f3_a_verdict_from_a_file_clears_no_hold() -> None:
    pen = Pen(by="p-grip", incarnation="filepen000")
    hold = pen.write("hold", "h-1", {"why": "boom over people"})
    title = pen.write("shot", "s-1", {"takes": 3})
    says = ["counts", "", ""]
    on_hold = pen.write("verdict", hold.id, {"says": says})
    on_takes = pen.write("verdict", title.id, {"says": says})
    found = a_file([hold, title, on_hold, on_takes])
    taken, faults = page_of(found, {hold.id: "hold", title.id: "shot"})
    assert [one.id for one in taken if one] == [hold.id, title.id, on_takes.id]
    assert [one["code"] for one in faults] == ["waits_for_server"]
