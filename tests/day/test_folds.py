"""At most seven open rows a department a shot are shown, one a stand or glass; the rest is folded, on both Pythons."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import SHOT, ADay, Door, a_ready_day
from people import GAFFER, GRIP, KEY_GRIP, PROPS_BUYER

Row = dict[str, Any]


@pytest.fixture
def day() -> ADay:
    """A shot whose list is done."""
    return a_ready_day()


def of_department(day: ADay, door: Door, department: str) -> tuple[list[Row], list[dict[str, Any]]]:
    """The open rows of a department that are shown, and what the others are folded into."""
    sheet = day.ask(door)["sheet"]
    rows = [row for row in day.rows(door) if row["department"] == department]
    shown = [row for row in rows if row["state"] in ("open", "again", "two") and not row["is_folded"]]
    return shown, sheet["rows"]["folds"].get(department, [])


def stand(day: ADay, number: int) -> None:
    source = f"lamp-{number}"
    day.a_source(source, role="back", overhead="yes")
    day.a_layer(f"sheet-{number}", source=source)
    day.act(KEY_GRIP, "rig", f"stand-{number}", title=f"Stand {number}", source=source, overhead="yes")


def test_of_a_stand_one_row_is_shown_and_the_fold_says_how_many_more(day: ADay, phone_door: Door) -> None:
    stand(day, 1)
    shown, folds = of_department(day, phone_door, "grip")
    assert [row["record"] for row in shown if row["must"]] == ["task/rig_stand~rig:stand-1~1"]
    assert folds == [{"key": "rig/stand-1", "title": "Stand 1", "count": 3}]  # sheet, place, safety


def test_what_waits_for_another_row_is_shown_after_it(day: ADay, phone_door: Door) -> None:
    stand(day, 1)
    day.tick(KEY_GRIP, "task", "rig_stand~rig:stand-1~1")
    shown, folds = of_department(day, phone_door, "grip")
    assert [(row["record"], row["field"]) for row in shown if row["must"]] == [("rig/stand-1", "safety_on")]
    assert [one["count"] for one in folds] == [2]


def test_of_a_glass_the_allergy_round_is_shown_first(day: ADay, phone_door: Door) -> None:
    day.act(PROPS_BUYER, "drink", "rum", title="Rum", scene="12", mixed_from="tea")
    shown, _folds = of_department(day, phone_door, "props")
    of_glass = [row for row in shown if row["fold"] and row["fold"]["key"] == "drink/rum"]
    assert [row["field"] for row in of_glass] == ["round_done"]


def test_over_seven_rows_the_rest_is_folded_too_and_none_is_lost(day: ADay, phone_door: Door) -> None:
    for number in range(1, 6):
        stand(day, number)
    for number in range(1, 6):
        day.a_task(f"own-{number}", title=f"Task {number}", order=number)
    shown, folds = of_department(day, phone_door, "grip")
    still = [row for row in day.rows(phone_door) if row["department"] == "grip" and row["state"] == "open"]
    assert len(shown) == 7
    assert sum(one["count"] for one in folds) == len(still) - 7
    assert len(still) == 5 * 4 + 5 + 1  # four a stand, five of people, the strike


def test_what_asks_again_or_has_two_answers_is_shown_before_all_else(day: ADay, phone_door: Door) -> None:
    for number in range(1, 9):
        day.a_task(f"own-{number}", title=f"Task {number}", order=number)
    day.a_task("last", title="Last of all", order=99)
    day.tick(KEY_GRIP, "task", "last")
    day.tick(GRIP, "task", "own-8", alone=True)
    day.act(KEY_GRIP, "task", "own-8", alone=True, done=False)
    day.act(KEY_GRIP, "task", "last", place="another place")
    shown, _folds = of_department(day, phone_door, "grip")
    titles = [row["title"] for row in shown]
    assert titles == ["Task 1", "Task 2", "Task 3", "Task 4", "Task 5", "Task 8", "Last of all"]


def test_folding_moves_no_row(day: ADay, phone_door: Door) -> None:
    for number in range(1, 4):
        stand(day, number)
    before = [(row["record"], row["field"]) for row in day.rows(phone_door)]
    day.tick(KEY_GRIP, "task", "rig_stand~rig:stand-2~1")
    assert [(row["record"], row["field"]) for row in day.rows(phone_door)] == before


def test_after_the_roll_comes_last(day: ADay, phone_door: Door) -> None:
    for number in range(1, 8):
        day.a_task(f"own-{number}", title=f"Task {number}", must="nice", order=number)
    stand(day, 1)
    day.act(GAFFER, "level", f"lamp-1~{SHOT}", on="yes")
    shown, folds = of_department(day, phone_door, "grip")
    assert "strike" not in [row["derived"]["template"] for row in shown if row["derived"]]
    assert {
        "key": "more",
        "title": "More",
        "count": 2,
    } in folds  # the strike, and the seventh of the nice ones
