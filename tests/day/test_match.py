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


def read_alone(fill: str = "T2.3", **of_shot: Any) -> ADay:
    """A shot of which nothing is known but its stop and three readings, as a meter shows them."""
    day = ADay()
    day.act(CAMERA_ASSISTANT, "point", "face", title="the face", type="face")
    day.act(CAMERA_ASSISTANT, "point", "wall", title="the wall", type="background")
    day.act(CAMERA_ASSISTANT, "shot", "12c", number="12C", title="Close", t_stop="T4", **of_shot)
    for record, stop, role, point in (
        ("k", "T4", "key", "face"),
        ("f", fill, "fill", "face"),
        ("b", "T2", "background", "wall"),
    ):
        fields = {
            "illuminance_lx": None,
            "t_stop": None,
            ("illuminance_lx" if "lx" in stop else "t_stop"): stop,
        }
        day.read(record, "", role=role, point=point, **fields)
    return day


def test_three_readings_and_a_stop_give_levels_contrast_spread_and_match_and_say_what_is_missing(
    phone_door: Door,
) -> None:
    """By hand, light as the square of the stop: 16, 5.29 and 4. 2 log2(2.3 / 4) = -1.597 stops and -2; (16 + 5.29) / 5.29
    = 4.02 : 1; all at the face over the wall log2(21.29 / 4) = 2.412."""
    day = read_alone()
    answer = day.ask(phone_door)
    light, target = answer["sheet"]["light"], answer["sheet"]["shot"]["target"]
    levels = {(one["role"], one["point"]): one for one in light["levels"]}
    key, fill = levels[("key", "point/face")], levels[("fill", "point/face")]
    wall, together = levels[("background", "point/wall")], levels[("all", "point/face")]
    assert (key["kind"], key["stops"]["shown"], key["lux"]) == ("reading", "on the target", None)
    assert fill["stops"]["low"] == fill["from_key"]["low"] == pytest.approx(-1.596732278, abs=1e-9)
    assert wall["from_key"]["low"] == pytest.approx(-2.0, abs=1e-12)
    assert together["stops"]["low"] == pytest.approx(0.412104045, abs=1e-9)
    assert light["key_to_fill"]["low"] == light["key_to_fill"]["high"] == pytest.approx(4.02457467, abs=1e-8)
    assert light["spread"]["low"] == light["spread"]["high"] == pytest.approx(2.412104045, abs=1e-9)
    assert [one["field"] for one in target["missing"]] == [
        "exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant",
    ]  # fmt: skip
    assert answer["readiness"]["state"] == "unknown"
    assert light["colour"]["reference"]["shown"] == "not known"

    points = compared(phone_door, day, read_alone(fill="T2.4"))
    for about in ("Key, the face", "Fill, the face", "Background, the wall", "stop"):
        assert points[about]["state"] == match.MATCHES, about
    assert points["lens"]["state"] == points["exposure index"]["state"] == match.UNKNOWN
    assert compared(phone_door, day, read_alone(fill="T1.4"))["Fill, the face"]["state"] == match.DIFFERS


def test_three_readings_in_lux_give_contrast_and_spread_before_the_index_is_known(phone_door: Door) -> None:
    """By hand: (240 + 80) / 80 = 4 : 1; with EI 800, 1/48 s, C 250 (ISO 2720:1974) T4 is 240 lx."""
    day = read_alone("80 lx")
    day.act(GAFFER, "reading", "k", illuminance_lx="240 lx", t_stop=None)
    light = day.ask(phone_door)["sheet"]["light"]
    assert light["key_to_fill"]["low"] == pytest.approx(4.0, abs=1e-12)
    assert {one["role"]: one["stops"] for one in light["levels"]}["fill"] is None
    exposure = {"exposure_index": 800, "frame_rate_per_s": "24", "shutter_angle_deg": "180"}
    day.act(CAMERA_ASSISTANT, "shot", "12c", **exposure, calibration_constant="250")
    assert day.levels(phone_door)["key"]["stops"]["shown"] == "on the target"
    assert day.levels(phone_door)["fill"]["stops"]["low"] == pytest.approx(-1.584962501, abs=1e-9)
