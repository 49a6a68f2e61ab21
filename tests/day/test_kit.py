"""Kit: what is needed at once against what is there. What nobody counted, or nobody planned, is never enough."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from a_day import ADay
from people import ASSISTANT_DIRECTOR, GRIP, KEY_GRIP
from tailslate.day import kit
from tailslate.day.gathered import Gathered

Door = Callable[[str], str]


def a_kit_day(count: int | None = 3, *, shooting_min: int | None = 60, call: str = "18:00") -> ADay:
    """A day with so many stands."""
    day = ADay()
    day.act(ASSISTANT_DIRECTOR, "day", "today", title="Night Crossing", call_time=call)
    if shooting_min is not None:
        day.act(ASSISTANT_DIRECTOR, "day", "today", shooting_min=shooting_min)
    day.act(KEY_GRIP, "kit", "stands", title="Rolling stand", owner="hired", place="truck, left")
    if count is not None:
        day.act(KEY_GRIP, "kit", "stands", count=count)
    return day


def needs(day: ADay, number: str, count: int | None, at: str = "", **more: Any) -> None:
    """A shot that needs so many stands."""
    shot = number.lower()
    day.act(ASSISTANT_DIRECTOR, "shot", shot, number=number, **more)
    if at:
        day.act(ASSISTANT_DIRECTOR, "shot", shot, planned_roll_time=at)
    day.act(KEY_GRIP, "booking", f"stands~{shot}", kit="stands", shot=shot)
    if count is not None:
        day.act(KEY_GRIP, "booking", f"stands~{shot}", count=count)


def figure(day: ADay) -> dict[str, Any]:
    """What is needed at once of the stands."""
    return kit.needed("kit/stands", Gathered(day.records))


def test_k2_shots_at_the_same_time_that_need_more_than_is_there_are_over_and_named(phone_door: Door) -> None:
    day = a_kit_day()
    needs(day, "12A", 2, "20:00")
    needs(day, "13A", 2, "20:30")
    needs(day, "12B", 3, "22:00")
    found = day.ask(phone_door, "shot", shot="12a")["sheet"]
    [thing] = found["kit"]
    assert thing["title"] == "Rolling stand"
    assert (thing["figures"][0]["state"], thing["figures"][0]["shown"]) == ("over", "4 of 3")
    assert thing["figures"][0]["line"] == "12A 2, 13A 2"
    assert [one["sentence"] for one in found["over"]] == [
        "Rolling stand, needed at once: 4 of 3; 12A 2, 13A 2"
    ]
    reasons = day.readiness(phone_door, shot="12a")["reasons"]
    assert any("Rolling stand" in one["sentence"] for one in reasons), "the board says why"


def test_k2_one_after_the_other_is_within(phone_door: Door) -> None:
    day = a_kit_day()
    needs(day, "12A", 2, "20:00")
    needs(day, "12B", 2, "21:00")
    assert (figure(day)["state"], figure(day)["shown"]) == ("within", "2 of 3")
    assert day.ask(phone_door, "shot", shot="12a")["sheet"]["over"] == []


def test_k2_a_shot_after_midnight_is_of_the_same_night() -> None:
    day = a_kit_day()
    needs(day, "12A", 2, "23:30")
    needs(day, "12B", 2, "00:10")
    assert figure(day)["state"] == "over"


def test_k2_one_shot_alone_that_needs_too_many_is_over_whenever_it_rolls() -> None:
    day = a_kit_day()
    needs(day, "12A", 4)
    assert (figure(day)["state"], figure(day)["shown"]) == ("over", "4 of 3")


@pytest.mark.parametrize(("planned", "field"), [("", "planned_roll_time"), ("19:00", "shooting_min")])
def test_k2_what_nobody_planned_may_fall_together_and_is_not_known(planned: str, field: str) -> None:
    day = a_kit_day(shooting_min=None)
    needs(day, "12A", 2, planned)
    needs(day, "12B", 2, "21:00")
    found = figure(day)
    assert (found["state"], found["shown"]) == ("unknown", "4 of 3")
    assert {"record": "shot/12a", "field": field} in [
        {"record": one["record"], "field": one["field"]} for one in found["missing"]
    ]


def test_k1_what_nobody_counted_is_never_enough() -> None:
    day = a_kit_day(count=None)
    needs(day, "12A", 1, "20:00")
    assert figure(day)["state"] == "unknown"
    assert "never enough" in figure(day)["missing"][0]["sentence"]


def test_k1_two_counts_are_none_until_someone_picks() -> None:
    day = a_kit_day()
    needs(day, "12A", 1, "20:00")
    day.act(GRIP, "kit", "stands", alone=True, count=9)
    assert figure(day)["state"] == "unknown"


def test_k3_what_is_done_needs_nothing_any_more() -> None:
    day = a_kit_day()
    needs(day, "12A", 3, "20:00", phase="done")
    needs(day, "13A", 3, "20:00")
    assert figure(day)["state"] == "within"


TIMES = ["", "19:00", "19:30", "20:00", "23:50", "00:20"]


@settings(max_examples=80)
@given(
    shots=st.lists(st.tuples(st.integers(1, 3), st.sampled_from(TIMES)), min_size=1, max_size=5),
    count=st.integers(0, 8),
    long_min=st.sampled_from([30, 60]),
)
def test_within_means_that_no_moment_needs_more_whatever_the_unplanned_do(
    shots: list[tuple[int, str]], count: int, long_min: int
) -> None:
    """Held to counting minute by minute: slower, and another way."""
    day = a_kit_day(count, shooting_min=long_min)
    for place, (many, at) in enumerate(shots):
        needs(day, f"{place}A", many, at)
    minutes = [None if not at else (int(at[:2]) * 60 + int(at[3:]) - 18 * 60) % 1440 for _many, at in shots]
    unplanned = sum(many for (many, _at), minute in zip(shots, minutes, strict=True) if minute is None)
    planned = [
        sum(
            many
            for (many, _at), minute in zip(shots, minutes, strict=True)
            if minute is not None and minute <= now < minute + long_min
        )
        for now in range(1440)
    ]
    surely = max([max(planned), *(many for many, _at in shots)])
    expected = "over" if surely > count else "unknown" if max(planned) + unplanned > count else "within"
    assert figure(day)["state"] == expected


def test_the_trucks_list_is_by_owner_or_by_place_and_says_what_is_not_known(phone_door: Door) -> None:
    day = a_kit_day()
    needs(day, "12A", 4, "20:00")
    day.act(KEY_GRIP, "kit", "muslin", title="Bleached muslin", owner="owned", type="sheet", count=2)
    day.act(KEY_GRIP, "kit", "arms", title="Arm", owner="hired", count=2, cost="3 a day", rating="10 kg")
    by_owner = day.ask(phone_door, "truck_list", by="owner")["groups"]
    assert [(one["title"], [row["title"] for row in one["rows"]]) for one in by_owner] == [
        ("Owned", ["Bleached muslin"]),
        ("Hired", ["Rolling stand", "Arm"]),  # what is over comes first
    ]
    muslin = by_owner[0]["rows"][0]
    assert muslin["flame_retardant"] == "flame-retardant: not known"
    assert "decide" in muslin["caution"]["sentence"]
    by_place = day.ask(phone_door, "truck_list", by="place")["groups"]
    assert [one["title"] for one in by_place] == ["truck, left", "No place said"]
