"""The change feed: departments and not people, from and to, and an undo that never loosens what holds someone safe."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from a_day import SHOT, ADay, a_ready_day, with_dressing
from people import ART_DIRECTOR, GAFFER, KEY_GRIP, CrewMember
from tailslate.day import feed, kinds, merge
from tailslate.day.edit import Edit
from tailslate.day.gathered import Gathered

Door = Callable[[str], str]


@pytest.fixture
def day() -> ADay:
    """A ready day with a chart on the table."""
    return with_dressing(a_ready_day())


def line_of(day: ADay, edit: Edit, before: dict[str, Any] | None = None) -> dict[str, Any]:
    """An edit as the engine tells it: with what it replaced, and where it stands."""
    fields = day.records[edit.record_key]
    live = [
        field for field, _value, _seen in edit.changes if edit.id in [e[0] for e in fields[field][merge.LIVE]]
    ]
    was = {field: [value] for field, value in (before or {}).items()}
    is_first = before is None
    return {
        "id": edit.id, "record": edit.record_key, "set": {c[0]: c[1] for c in edit.changes}, "was": was, "live": live,
        "is_first": is_first, "by": edit.by, "for_whom": edit.for_whom, "at_ms": edit.at_ms,
    }  # fmt: skip


def row_of(day: ADay, door: Door, line: dict[str, Any], *mine: str) -> dict[str, Any]:
    """The feed's row of one edit."""
    asked = {"do": "feed", "lines": [line], "records": day.records, "mine": list(mine), "utc_offset_min": 60}
    answer = json.loads(door(json.dumps(asked)))
    assert answer["ok"], answer
    row: dict[str, Any] = answer["rows"][0]
    return row


def test_f1_a_change_is_told_by_department_from_to_and_when(day: ADay, phone_door: Door) -> None:
    before = {"distance_m": day.records[f"level/key~{SHOT}"]["distance_m"][merge.LIVE][0][1]}
    edit = day.act(GAFFER, "level", f"key~{SHOT}", distance_m="2.7 m")
    row = row_of(day, phone_door, line_of(day, edit, before), "grip")
    assert row["who"] == "Electric"
    assert row["title"] == "Key"
    assert [one.replace("\u00a0", " ") for one in row["changes"]] == [
        "last frame or lamp to the subject: 2.7 m, was 2 m"
    ]
    assert row["for_mine"]
    assert not row["by_mine"]


def test_f1_holds_and_safety_ticks_name_the_person(day: ADay, phone_door: Door) -> None:
    hold = day.act(KEY_GRIP, "hold", "h-1", why="boom over people", type="stop", department="grip", shot=SHOT)
    assert row_of(day, phone_door, line_of(day, hold))["who"] == "Key grip"
    task = day.act(KEY_GRIP, "task", "t-2", title="Coil it", department="grip")
    assert row_of(day, phone_door, line_of(day, task))["who"] == "Grip"


def test_f2_undoing_a_raised_hold_is_clearing_it_and_is_not_done_here(day: ADay, phone_door: Door) -> None:
    hold = day.act(KEY_GRIP, "hold", "h-1", why="boom over people", type="stop", shot=SHOT)
    undo = row_of(day, phone_door, line_of(day, hold))["undo"]
    assert (undo["acts"], undo["remove"]) == ([], "")
    assert "cleared, never undone" in undo["why_not"]


def test_f2_undoing_a_clearing_raises_the_hold_again(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "hold", "h-1", why="boom over people", type="stop", shot=SHOT)
    clearing = day.act(KEY_GRIP, "hold", "h-1", cleared=["done", []])
    undo = row_of(day, phone_door, line_of(day, clearing, {}))["undo"]
    assert undo["acts"][0]["set"] == {"cleared": False}
    assert not kinds.is_reserved("hold", [["cleared", False, []]])


def test_f3_a_tick_that_was_taken_away_is_not_ticked_again_by_an_undo(day: ADay, phone_door: Door) -> None:
    done = day.records["task/flag"]["done"][merge.LIVE][0][1]
    taken = day.act(GAFFER, "task", "flag", done=False)
    undo = row_of(day, phone_door, line_of(day, taken, {"done": done}))["undo"]
    assert undo["acts"] == []
    assert "open it" in undo["why_not"]


def test_a_record_that_was_added_is_undone_by_removing_it_and_a_removal_by_bringing_it_back(
    day: ADay, phone_door: Door
) -> None:
    added = day.act(ART_DIRECTOR, "dressing", "lantern", title="Lantern")
    row = row_of(day, phone_door, line_of(day, added))
    assert row["did"] == "added"
    assert row["undo"]["remove"] == "dressing/lantern"
    removed = day.remove(ART_DIRECTOR, "dressing/lantern")
    row = row_of(day, phone_door, line_of(day, removed, {}))
    assert row["did"] == "removed"
    assert row["undo"]["acts"][0]["set"] == {"present": True}
    assert "off the day already" in row_of(day, phone_door, line_of(day, added))["undo"]["why_not"]


def test_undo_of_what_others_changed_since_replaces_what_stands_now(day: ADay, phone_door: Door) -> None:
    first = day.act(ART_DIRECTOR, "dressing", "chart", place="bar")
    line = line_of(day, first, {"place": "card table"})
    second = day.act(KEY_GRIP, "dressing", "chart", place="floor")
    line["live"] = []
    [act] = row_of(day, phone_door, line)["undo"]["acts"]
    assert act["set"] == {"place": "card table"}
    assert act["painted"] == {"place": [second.id]}
    day.act(KEY_GRIP, "dressing", "chart", **act["set"])
    assert row_of(day, phone_door, line)["undo"]["why_not"] == "It stands as it was before."


CHANGES = [
    (GAFFER, "source", "key", "height_m", ["2 m", "3 m"]),
    (ART_DIRECTOR, "dressing", "chart", "place", ["bar", "floor"]),
    (ART_DIRECTOR, "dressing", "chart", "flame_retardant", ["unknown", "no", "yes"]),
    (KEY_GRIP, "task", "flag", "must", ["must", "nice"]),
    (KEY_GRIP, "hold", "h-1", "type", ["stop", "watch"]),
    (KEY_GRIP, "hold", "h-1", "cleared", [False, ["done", []]]),
]


@settings(max_examples=60)
@given(st.lists(st.tuples(st.sampled_from(range(len(CHANGES))), st.integers(0, 2)), min_size=1, max_size=8))
def test_f2_f3_no_undo_of_any_history_is_reserved_or_less_careful(steps: list[tuple[int, int]]) -> None:
    day = with_dressing(a_ready_day())
    day.act(KEY_GRIP, "hold", "h-1", why="boom", type="stop")
    lines = []
    for which, pick in steps:
        who, kind, record, field, values = CHANGES[which]
        cell = day.records.get(f"{kind}/{record}", {}).get(field)
        before = {field: cell[merge.LIVE][0][1]} if cell else {}
        edit = _act(day, who, kind, record, field, values[pick % len(values)])
        lines.append(line_of(day, edit, before))
    records = Gathered(day.records)
    for line in lines:
        for act in feed.undo(line, records)["acts"]:
            rows = [[field, value] for field, value in act["set"].items()]
            assert kinds.reserved_for(act["kind"], rows) == ()
            for field, value in rows:
                known = kinds.field_of(act["kind"], field)
                now = records.value(f"{act['kind']}/{act['record']}", field)
                if known and known.rule == "careful":
                    ranks = [kinds.careful_rank(act["kind"], field, one) for one in (value, now)]
                    assert ranks[0] <= ranks[1]


def _act(day: ADay, who: CrewMember, kind: str, record: str, field: str, value: Any) -> Edit:
    return day.act(who, kind, record, **{field: value})


def test_news_is_what_another_department_wrote_on_what_is_for_mine(day: ADay, phone_door: Door) -> None:
    cells = [
        ["source/key", GAFFER.person, ""],
        ["task/flag", GAFFER.person, ""],
        ["dressing/chart", ART_DIRECTOR.person, ""],
        ["shot/" + SHOT, ART_DIRECTOR.person, ""],
        ["source/key", KEY_GRIP.person, ""],
    ]
    asked = {"do": "news", "cells": cells, "records": day.records, "mine": ["grip"]}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert answer["records"] == ["shot/" + SHOT, "source/key", "task/flag"]
