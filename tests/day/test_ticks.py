"""A tick remembers what it was ticked for (T1 to T4), on both Pythons."""

from __future__ import annotations

import re

import pytest

from a_day import SHOT, ADay, Door, a_ready_day
from people import ASSISTANT_DIRECTOR, CAMERA_ASSISTANT, GAFFER, GRIP, KEY_GRIP

FLAG = "Flag off the near shoulder"
DISTANCE = f"level/key~{SHOT}/distance_m"


@pytest.fixture
def day() -> ADay:
    """The flag stands for a key that is 3.2 m away, and is ticked for it."""
    found = a_ready_day()
    found.act(GAFFER, "level", f"key~{SHOT}", distance_m="3.2 m")
    found.act(KEY_GRIP, "task", "flag", relies_on=[DISTANCE])
    found.tick(KEY_GRIP, "task", "flag")
    return found


def test_t1_a_tick_would_keep_the_stored_values_of_what_it_is_for(day: ADay, phone_door: Door) -> None:
    assert day.row(phone_door, FLAG)["value_if_ticked"] == [
        "done",
        [
            ["task/flag/title", FLAG],
            ["task/flag/amount", None],
            ["task/flag/unit", None],
            ["task/flag/place", None],
            [DISTANCE, ["3.2", "3.2 m"]],
        ],
    ]


def test_t2_a_frame_moved_by_more_than_its_step_asks_again_and_says_from_to_who_and_when(
    day: ADay, phone_door: Door
) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="2.7 m")
    row = day.row(phone_door, FLAG)
    assert (row["state"], row["word"]) == ("again", "again")
    [change] = row["changes"]
    assert re.fullmatch(
        r"Key moved in: 3\.2 m, now 2\.7 m\. Electric \d\d:\d\d", change.replace("\u00a0", " ")
    )


@pytest.mark.parametrize(
    ("moved_to", "state"), [("3.11 m", "done"), ("3.29 m", "done"), ("3.1 m", "again"), ("3.3 m", "again")]
)
def test_t2_under_the_step_of_ten_centimetres_nothing_opens_again_at_it_it_does(
    day: ADay, phone_door: Door, moved_to: str, state: str
) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m=moved_to)
    assert day.row(phone_door, FLAG)["state"] == state


def test_t2_moved_there_and_back_again_is_as_ticked(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="2.7 m")
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="126 in")  # 3.2004 m
    assert day.row(phone_door, FLAG)["state"] == "done"


def test_t2_an_input_with_two_answers_asks_again(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "level", f"key~{SHOT}", alone=True, distance_m="3.0 m")
    row = day.row(phone_door, FLAG)
    assert row["state"] == "again"
    assert row["changes"] == ["Key, last frame or lamp to the subject has two answers: pick one first"]


def test_t2_an_input_that_is_no_longer_known_or_gone_asks_again(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m=None)
    assert "now not known" in day.row(phone_door, FLAG)["changes"][0]
    day.remove(GAFFER, f"level/key~{SHOT}")
    assert "is no longer on the day" in day.row(phone_door, FLAG)["changes"][0]


def test_t2_what_a_task_came_to_rely_on_after_the_tick_asks_again(day: ADay, phone_door: Door) -> None:
    day.act(CAMERA_ASSISTANT, "setup", "s", title="Over the Gambler", lens_mm="50 mm")
    day.act(KEY_GRIP, "task", "flag", relies_on=[DISTANCE, "setup/s/lens_mm"])
    assert day.row(phone_door, FLAG)["changes"] == ["it now relies on Over the Gambler, lens as well"]


def test_t3_of_several_done_ticks_one_fresh_one_is_enough(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="2.7 m")
    day.tick(GRIP, "task", "flag", alone=True)  # made beside the stale one, not instead of it
    row = day.row(phone_door, FLAG)
    assert (row["state"], row["by"]) == ("done", GRIP.person)
    assert len(row["painted"]["done"]) == 2


def test_t3_not_done_wins_over_any_number_of_done(day: ADay, phone_door: Door) -> None:
    day.tick(GRIP, "task", "flag", alone=True)
    day.act(ASSISTANT_DIRECTOR, "task", "flag", alone=True, done=False)
    assert day.row(phone_door, FLAG)["state"] == "two"


def test_t3_taking_a_tick_back_opens_the_row(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "task", "flag", done=False)
    assert day.row(phone_door, FLAG)["state"] == "open"


def test_t4_while_the_shot_rolls_nothing_asks_again(day: ADay, phone_door: Door) -> None:
    day.act(ASSISTANT_DIRECTOR, "shot", SHOT, phase="rolling")
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="2.7 m")
    assert day.row(phone_door, FLAG)["state"] == "done"


def test_a_tick_for_someone_names_whom_it_was_ticked_for(day: ADay, phone_door: Door) -> None:
    day.pens[KEY_GRIP.role].chance.seed(9)
    value = day.row(phone_door, FLAG)["value_if_ticked"]
    made = day.pens[KEY_GRIP.role].write("task", "rail", {"done": value}, for_whom=GRIP.person)
    day.records["task/rail"] = {
        "done": [0, [[made.id, made.changes[0][1], made.at_ms, made.by, GRIP.person, "", 1]], [], [], []]
    }
    day.act(KEY_GRIP, "task", "rail", title="Rail clamp", shot=SHOT, department="grip")
    row = day.row(phone_door, "Rail clamp")
    assert (row["by"], row["for_whom"]) == (KEY_GRIP.person, GRIP.person)


def test_a_tick_whose_task_is_gone_stays_as_no_longer_asked(day: ADay, phone_door: Door) -> None:
    day.act(KEY_GRIP, "task", "orphan", shot=SHOT, department="grip", done=["done", []])
    row = next(one for one in day.rows(phone_door) if one["record"] == "task/orphan")
    assert (row["state"], row["word"], row["must"]) == ("off", "no longer asked", False)


def test_rows_keep_their_place_whatever_their_state(day: ADay, phone_door: Door) -> None:
    for place in (3, 1, 2):
        day.a_task(f"t-{place}", title=f"Task {place}", order=place)
    before = [row["record"] for row in day.rows(phone_door)]
    day.tick(KEY_GRIP, "task", "t-1")
    assert before[:4] == ["task/t-1", "task/t-2", "task/t-3", "task/flag"]
    assert [row["record"] for row in day.rows(phone_door)] == before
