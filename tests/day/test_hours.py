"""Meal, wrap, rest before the next call and the hours of performers under age, beside the forecast: on both Pythons."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import SHOT, ADay, Door, a_ready_day
from people import ASSISTANT_DIRECTOR, KEY_GRIP, MORNING_MS

MINUTE_MS = 60_000


@pytest.fixture
def day() -> ADay:
    """A shot for which the grips need 60 more, said at 07:30; 30 minutes to shoot it, wrap at 19:00."""
    made = a_ready_day()
    made.act(ASSISTANT_DIRECTOR, "day", "today", call_time="06:00", wrap_time="19:00", shooting_min=30)
    made.a_task("bag", title="Bag stand 3")
    made.minute = 29
    made.act(KEY_GRIP, "word", f"{SHOT}~grip", shot=SHOT, department="grip", said="more", minutes=60)
    return made


def forecast(day: ADay, door: Door) -> dict[str, Any]:
    now_ms = MORNING_MS + day.minute * MINUTE_MS
    found: dict[str, Any] = day.ask(door, "forecast", shots=[SHOT], now_ms=now_ms)
    return found


def line(day: ADay, door: Door, what: str = "rest") -> tuple[str, str]:
    [one] = [one for one in forecast(day, door)["hours"] if one["what"] == what]
    return one["state"], one["shown"].replace("\u00a0", " ")


def set_day(day: ADay, **facts: Any) -> None:
    day.act(ASSISTANT_DIRECTOR, "day", "today", **facts)


def test_the_end_is_a_range_and_a_shot_past_wrap_is_named(day: ADay, phone_door: Door) -> None:
    """60 more and 30 to shoot, from 07:30: about 09:04 by hand; wrap at 08:00 leaves the shot over."""
    found = forecast(day, phone_door)
    assert found["end"]["low_ms"] < found["end"]["high_ms"]
    assert found["wrap"]["over"] == []
    set_day(day, wrap_time="08:00")
    found = forecast(day, phone_door)
    assert found["wrap"]["over"] == [f"12C ({found['shots'][0]['when']['shown']})"]


def test_nothing_typed_is_not_known_and_never_within(day: ADay, phone_door: Door) -> None:
    found = forecast(day, phone_door)
    assert [(one["what"], one["state"], one["field"]) for one in found["hours"]] == [
        ("meal", "unknown", "meal_time"),
        ("rest", "unknown", "next_call_time"),
    ]
    assert found["hours"][-1]["caution"]["code"] == "hours"


def test_a_meal_is_told_with_how_long_after_the_call(day: ADay, phone_door: Door) -> None:
    """Six hours from the call to the meal: common practice, no source."""
    set_day(day, meal_time="12:00", meal_min=45)
    assert line(day, phone_door, "meal") == ("within", "Meal 12:00 to 12:45, 6 h after the call")
    set_day(day, meal_time="12:05")
    state, said = line(day, phone_door, "meal")
    assert (state, said.endswith("later than 6 h")) == ("over", True)


def test_rest_is_counted_from_wrap_or_from_a_later_end(day: ADay, phone_door: Door) -> None:
    set_day(day, next_call_time="06:00")
    assert line(day, phone_door) == (
        "unknown",
        "Rest from wrap 19:00 to the next call 06:00: 11 h. Nobody said how much is owed",
    )
    set_day(day, rest_min=660)
    assert line(day, phone_door)[0] == "within"
    set_day(day, rest_min=661)
    assert line(day, phone_door) == (
        "over",
        "Rest from wrap 19:00 to the next call 06:00: 11 h. 11 h 01 owed: call not before 06:01",
    )
    set_day(day, rest_min=660, wrap_time="08:00", next_call_time="19:00")
    state, said = line(day, phone_door)
    assert state == "over"  # wrap alone would leave the 11 h; the forecast ends after it
    assert ". By the forecast (last shot shot " in said


def test_rest_is_not_known_while_nobody_can_say_when_the_last_shot_is_shot(
    day: ADay, phone_door: Door
) -> None:
    set_day(day, next_call_time="06:00", rest_min=600)
    day.act(KEY_GRIP, "hold", "h", why="wind", type="stop", shot=SHOT, department="grip")
    state, said = line(day, phone_door)
    assert (state, said.endswith("Nobody can say when the last shot is shot")) == ("unknown", True)


def performer(day: ADay, **facts: Any) -> None:
    day.act(ASSISTANT_DIRECTOR, "performer", "cabin-child", title="The Stowaway", **facts)


def test_a_performer_under_age_is_away_by_the_earlier_of_two_limits(day: ADay, phone_door: Door) -> None:
    performer(day, under_age="yes", arrived_time="06:30")
    assert line(day, phone_door, "under_age") == (
        "unknown",
        "The Stowaway, under age, here since 06:30: nobody said until when",
    )
    performer(day, allowed_min=300)
    assert line(day, phone_door, "under_age") == (
        "within",
        "The Stowaway, under age, here since 06:30, 5 h allowed: away by 11:30",
    )
    performer(day, away_time="08:00")
    state, said = line(day, phone_door, "under_age")
    assert state == "over"
    assert "away by 08:00. Not certain to be ready by then: 12C (" in said
    performer(day, away_time="07:00")
    assert line(day, phone_door, "under_age")[1].endswith("away by 07:00, which is past")


def test_a_shot_of_which_nobody_can_say_when_keeps_no_limit(day: ADay, phone_door: Door) -> None:
    performer(day, under_age="yes", away_time="12:00")
    assert line(day, phone_door, "under_age")[0] == "within"
    day.act(KEY_GRIP, "word", f"{SHOT}~grip", said="stuck", minutes=None)
    state, said = line(day, phone_door, "under_age")
    assert (state, said.endswith("Not certain to be ready by then: 12C (no range)")) == ("unknown", True)


def test_who_may_be_under_age_is_not_known_to_be_grown_up(day: ADay, phone_door: Door) -> None:
    performer(day, under_age="unknown", away_time="12:00")
    assert line(day, phone_door, "under_age") == ("unknown", "The Stowaway: nobody said whether under age")
    performer(day, under_age=None)
    assert line(day, phone_door, "under_age")[1].startswith("The Stowaway: nobody said")


def test_of_yes_and_no_yes_is_the_careful_answer(day: ADay, phone_door: Door) -> None:
    performer(day, away_time="12:00")
    day.act(ASSISTANT_DIRECTOR, "performer", "cabin-child", alone=True, under_age="yes")
    day.act(KEY_GRIP, "performer", "cabin-child", alone=True, under_age="no")
    assert line(day, phone_door, "under_age")[0] == "within"


@pytest.mark.parametrize("facts", [{"under_age": "no"}, {"under_age": "yes", "status": "released"}, {}])
def test_nobody_else_has_a_line(day: ADay, phone_door: Door, facts: dict[str, str]) -> None:
    performer(day, **facts)
    assert {one["what"] for one in forecast(day, phone_door)["hours"]} == {"meal", "rest"}
