"""A pickup beside its shot: differences worked by hand, the same on both Pythons, and nothing unknown ever matches.

Stops: ISO 2720 and N = 2 log2 of the stop numbers. Mired: 1e6 / K. Tolerances are common practice, no source, save
5 mired and 0.003 Duv (see day/colour.py).
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from a_day import ADay, Door
from people import CAMERA_ASSISTANT, GAFFER
from tailslate.day import match

Point = dict[str, Any]


def a_lit_day(
    level: str = "240 lx", *, t_stop: str = "T4", lens: str = "35 mm", reference: str = "3200 K"
) -> ADay:
    """One shot whose key is read; T4 at EI 800, 24 fps, 180 degrees is 240 lx exactly."""
    day = ADay()
    day.act(CAMERA_ASSISTANT, "point", "face", title="the Gambler's face", scene="12", type="face")
    day.a_shot(t_stop=t_stop, setup="over", reference_colour_k=reference)
    day.act(
        CAMERA_ASSISTANT, "setup", "over",
        title="Over", lens_mm=lens, camera_height_m="1.3 m", camera_distance_m="2.4 m",
    )  # fmt: skip
    day.a_source()
    day.read("r-key", level)
    return day


def compared(door: Door, now: ADay, then: ADay, **asked: Any) -> dict[str, Point]:
    """Points by what they are about."""
    found = now.ask(door, "match", shot="12c", shot_then="12c", records_then=then.records, **asked)["match"]
    return {one["about"]: one for one in found["points"]}


def states(points: dict[str, Point]) -> dict[str, str]:
    return {about: one["state"] for about, one in points.items()}


def test_a_shot_beside_itself_differs_in_nothing(phone_door: Door) -> None:
    day = a_lit_day()
    points = compared(phone_door, day, day)
    known = {about: state for about, state in states(points).items() if state != match.UNKNOWN}
    assert set(known.values()) == {match.MATCHES}
    assert {"stop", "exposure index", "lens", "Key, the Gambler's face"} <= set(known)


@pytest.mark.parametrize(
    ("level", "state", "difference"),
    [
        ("240 lx", "matches", "none"),
        ("280 lx", "matches", "0.2 stops more"),  # log2(280/240) = 0.222
        ("480 lx", "differs", "1.0 stops more"),
        ("120 lx", "differs", "1.0 stops less"),
        ("190 lx", "differs", "0.3 stops less"),  # log2(190/240) = -0.337, past 0.3
    ],
)
def test_a_level_is_compared_in_stops_from_its_own_shot_s_stop(
    level: str, state: str, difference: str, phone_door: Door
) -> None:
    one = compared(phone_door, a_lit_day(level), a_lit_day())["Key, the Gambler's face"]
    assert (one["state"], one["difference"].replace("\u00a0", " ")) == (state, difference)
    assert one["tolerance"].replace("\u00a0", " ") == "within 0.3 stops"


def test_half_the_light_at_a_stop_more_open_is_as_dark_on_the_recording(phone_door: Door) -> None:
    """T2.828 passes twice what T4 does: 120 lx there records like 240 lx at T4."""
    points = compared(phone_door, a_lit_day("120 lx", t_stop="T2.828"), a_lit_day())
    assert points["Key, the Gambler's face"]["state"] == "matches"
    assert points["stop"]["state"] == "differs"
    assert points["stop"]["difference"].replace("\u00a0", " ") == "1.0 stops opened"


def test_lens_index_and_colour_say_by_how_much(phone_door: Door) -> None:
    """50 mm is 42.9 % longer than 35 mm; 5600 K is 178.6 mired and 3200 K 312.5, so 134 cooler."""
    now = a_lit_day(lens="50 mm", reference="5600 K")
    now.act(CAMERA_ASSISTANT, "shot", "12c", exposure_index=1600)
    points = compared(phone_door, now, a_lit_day())
    told = {about: one["difference"].replace("\u00a0", " ") for about, one in points.items()}
    assert told["lens"] == "42.9 % longer"
    assert told["exposure index"] == "1.0 stops faster: grain and noise"
    assert told["colour that the shot is balanced for"] == "134 mired cooler"
    assert {points[about]["state"] for about in ("lens", "exposure index")} == {"differs"}


def test_what_nobody_knows_never_matches(phone_door: Door) -> None:
    now, then = ADay(), ADay()
    for day in (now, then):
        day.act(CAMERA_ASSISTANT, "shot", "12c", number="12C")
    points = compared(phone_door, now, then)
    assert set(states(points).values()) == {match.UNKNOWN}
    assert {"stop", "exposure index", "lens", "time of one frame"} <= set(points)


def test_two_answers_never_match(phone_door: Door) -> None:
    now = a_lit_day()
    now.act(GAFFER, "shot", "12c", alone=True, t_stop="T5.6")
    assert compared(phone_door, now, a_lit_day())["stop"]["state"] == match.UNKNOWN


def test_light_that_is_on_one_side_only_differs(phone_door: Door) -> None:
    now = a_lit_day()
    now.a_source("fill", role="fill")
    one = compared(phone_door, now, a_lit_day())["Fill, the Gambler's face"]
    assert (one["state"], one["then"]) == ("differs", "not there")


def test_a_model_alone_may_differ_where_its_range_is_wider_than_what_is_let_pass() -> None:
    assert match.state_of(-0.2, 0.5, 0.3) == match.MAY_DIFFER
    assert match.state_of(-0.9, 0.9, 0.3) == match.MAY_DIFFER


@given(st.floats(-20, 20), st.floats(0, 5), st.floats(0, 3))
def test_a_match_is_never_claimed_when_either_end_lies_outside(
    low: float, width: float, tolerance: float
) -> None:
    high = low + width
    state = match.state_of(low, high, tolerance)
    margin = 1e-6
    if low < -tolerance - margin or high > tolerance + margin:
        assert state != match.MATCHES
    if low - margin > tolerance or high + margin < -tolerance:
        assert state == match.DIFFERS
