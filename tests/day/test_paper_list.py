"""A checklist on paper: numbers and a code, the same on both Pythons; a list that changed has another code."""

from __future__ import annotations

from typing import Any

from a_day import ADay, Door, a_ready_day
from people import ASSISTANT_DIRECTOR, KEY_GRIP


def listed(day: ADay, door: Door) -> dict[str, Any]:
    rows = day.ask(door)["sheet"]["rows"]
    found: dict[str, Any] = day.ask(door, "paper_list", rows=rows)["list"]
    return found


def test_rows_are_numbered_from_one_by_department(phone_door: Door) -> None:
    found = listed(a_ready_day(), phone_door)
    assert [one["number"] for one in found["rows"]] == list(range(1, len(found["rows"]) + 1))
    departments = [one["department"] for one in found["rows"]]
    assert departments.index("grip") < departments.index("electric")
    assert departments == sorted(departments, key=departments.index)  # each stands together


def test_a_tick_changes_no_number_and_no_code(phone_door: Door) -> None:
    day = a_ready_day()
    before = listed(day, phone_door)
    day.act(KEY_GRIP, "task", "flag", done=False)
    after = listed(day, phone_door)
    assert before["code"] == after["code"]
    assert [one["row"]["title"] for one in before["rows"]] == [one["row"]["title"] for one in after["rows"]]


def test_another_row_is_another_list(phone_door: Door) -> None:
    day = a_ready_day()
    before = listed(day, phone_door)["code"]
    day.act(
        ASSISTANT_DIRECTOR,
        "task",
        "more",
        title="Clear the gangway",
        department="grip",
        shot="12c",
        must="must",
    )
    assert listed(day, phone_door)["code"] != before
