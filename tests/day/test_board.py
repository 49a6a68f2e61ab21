"""The board, the day's page, one department's list and the words of history, on both Pythons."""

from __future__ import annotations

import re
from typing import Any

import pytest

from a_day import SHOT, ADay, Door, a_ready_day, with_dressing
from people import CAMERA_ASSISTANT, GAFFER, KEY_GRIP

MINUTE_MS = 60_000


@pytest.fixture
def day() -> ADay:
    return a_ready_day()


def board(day: ADay, door: Door, *, minutes_later: int, **more: Any) -> dict[str, Any]:
    readiness = day.readiness(door)
    now_ms = readiness["as_of_ms"] + minutes_later * MINUTE_MS
    words = {"last_words": {"grip": readiness["as_of_ms"]}, "now_ms": now_ms, "complete": [], **more}
    return day.ask(door, "board", shots=[{"shot": SHOT, "readiness": readiness}], **words)


def test_a_ready_of_a_quarter_of_an_hour_is_ready_and_an_older_one_was_ready(
    day: ADay, phone_door: Door
) -> None:
    [row] = board(day, phone_door, minutes_later=15)["rows"]
    assert (row["state"], row["word"]) == ("ready", "READY")
    [row] = board(day, phone_door, minutes_later=16)["rows"]
    assert (row["state"], row["sentence"]) == ("was_ready", "Confirm by voice")
    assert re.fullmatch(r"WAS READY at \d\d:\d\d", row["word"])


def test_the_limit_can_be_set(day: ADay, phone_door: Door) -> None:
    found = board(day, phone_door, minutes_later=16, old_ms=30 * MINUTE_MS)
    assert found["rows"][0]["state"] == "ready"
    assert found["old_ms"] == 30 * MINUTE_MS
    assert board(day, phone_door, minutes_later=16)["old_ms"] == 15 * MINUTE_MS


def test_a_ready_from_the_future_is_old_for_its_age_is_not_known(day: ADay, phone_door: Door) -> None:
    [row] = board(day, phone_door, minutes_later=-5)["rows"]
    assert row["state"] == "was_ready"


def test_each_department_has_its_age_and_one_that_never_spoke_is_old(day: ADay, phone_door: Door) -> None:
    heads = {head["name"]: head for head in board(day, phone_door, minutes_later=2)["departments"]}
    assert (heads["grip"]["age"].replace("\u00a0", " "), heads["grip"]["old"]) == ("2 min", False)
    assert (heads["art"]["age"], heads["art"]["old"]) == ("not known", True)


def test_a_department_that_was_done_and_has_been_silent_reads_old(day: ADay, phone_door: Door) -> None:
    [row] = board(day, phone_door, minutes_later=20)["rows"]
    assert row["departments"]["grip"] == {"state": "done", "count": 1, "word": "was done", "old": True}


def test_an_incomplete_copy_calls_nothing_ready(day: ADay, phone_door: Door) -> None:
    [row] = board(day, phone_door, minutes_later=1, complete=["still fetching the day"])["rows"]
    assert (row["word"], row["sentence"]) == ("UNKNOWN", "still fetching the day")


def test_the_day_lists_scenes_with_shots_people_and_what_is_held_and_asked(
    day: ADay, phone_door: Door
) -> None:
    day.act(KEY_GRIP, "hold", "h", why="wind on the boom", on="source/key")
    day.act(GAFFER, "hold", "done", why="breaker out", shot=SHOT)
    day.tick(GAFFER, "hold", "done", "cleared")
    day.act(CAMERA_ASSISTANT, "request", "q", ask="flag", to_department="grip", shot=SHOT, answer="asked")
    day.act(CAMERA_ASSISTANT, "request", "old", ask="lens wipe", to_department="camera", answer="done")
    found = day.ask(phone_door, "day")
    assert found["day"]["title"] == "Night Crossing"
    assert [shot["number"] for shot in found["day"]["scenes"][0]["shots"]] == ["12C"]
    assert found["people"][GAFFER.person] == {"name": "Ida", "role": "Gaffer", "departments": ["electric"]}
    assert [(one["record"], one["whole_day"]) for one in found["holds"]] == [("hold/h", False)]
    assert [one["record"] for one in found["requests"]] == ["request/q"]


def test_one_departments_list_follows_the_order_of_the_shots(day: ADay, phone_door: Door) -> None:
    with_dressing(day)
    sheets = [{"shot": SHOT, "sheet": day.ask(phone_door)["sheet"]}]
    [group] = day.ask(phone_door, "list", department="art", shots=sheets)["groups"]
    assert (group["number"], [row["title"] for row in group["rows"]]) == ("12C", ["Nautical chart: in place"])
    assert day.ask(phone_door, "list", department="sound", shots=sheets)["groups"] == []


def test_history_says_what_was_set_by_which_role_and_when(day: ADay, phone_door: Door) -> None:
    line = {
        "set": {"distance_m": ["2.7", "2.7 m"], "on": "yes"},
        "by": GAFFER.person,
        "for_whom": "",
        "at_ms": 1_764_079_740_000,
    }
    found = day.ask(phone_door, "history_words", record=f"level/key~{SHOT}", lines=[line], utc_offset_min=60)
    [sentence] = found["sentences"]
    expected = "last frame or lamp to the subject: 2.7 m; burning: yes. Gaffer 15:09"
    assert sentence.replace("\u00a0", " ") == expected


def test_history_of_a_tick_for_someone_names_both_and_what_is_newer_says_so(
    day: ADay, phone_door: Door
) -> None:
    lines = [
        {
            "set": {"done": ["done", []]},
            "by": KEY_GRIP.person,
            "for_whom": GAFFER.person,
            "at_ms": 1_764_079_740_000,
        },
        {"set": {"glow": 3}, "by": "", "for_whom": "", "at_ms": 1_764_079_740_000},
    ]
    found = day.ask(phone_door, "history_words", record="task/flag", lines=lines)["sentences"]
    assert found == [
        "done: done. Key grip for Gaffer 14:09",
        "glow (made with a newer version): 3. The server 14:09",
    ]
