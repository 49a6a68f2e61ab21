"""Meter readings as a crew types them, on both Pythons: stops and tenths, footcandles, lux, stops from the target."""

from __future__ import annotations

import json

import pytest

from a_day import FACE, SHOT, ADay, Door, a_ready_day
from people import CAMERA_ASSISTANT, GAFFER


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


@pytest.fixture
def day() -> ADay:
    """A ready day before anybody read a meter: T4, EI 800, 1/48 s, C 250 ask for 240 lx."""
    found = a_ready_day()
    found.remove(GAFFER, "reading/r-1")
    return found


def typed(day: ADay, door: Door, text: str, **more: str) -> dict[str, object]:
    return day.ask(door, "read_meter", shot=SHOT, typed=text, **more)


@pytest.mark.parametrize(
    ("text", "lux", "why"),
    [
        ("59 lx", 59.0, "as read"),
        ("5.5 fc", 59.2015073, "1 fc = 1/0.3048^2 lx, NIST SP 811"),
        ("100 fc", 1076.391042, "1 fc = 1/0.3048^2 lx, NIST SP 811"),
        ("T4", 240.0, "E = C N^2 / (S t), ISO 2720: 250 * 16 * 48 / 800"),
        ("f/2", 60.0, "two stops less than T4"),
        ("T4 5/10", 339.4112550, "half a stop more: 240 * sqrt 2"),
        ("T4 5", 339.4112550, "five tenths, as a meter shows them"),
        ("t4 + 3/10", 295.4746574, "240 * 2^0.3"),
        ("1/3 under", 190.4881262, "240 / 2^(1/3)"),
        ("-1", 120.0, "one stop under 240 lx"),
        ("+0,5", 339.4112550, "half a stop over"),
        ("on the target", 240.0, "the target itself"),
        ("\u2153 over", 302.3810520, "240 * 2^(1/3)"),
    ],
)
def test_a_reading_is_converted_once_and_kept_as_typed(
    day: ADay, phone_door: Door, text: str, lux: float, why: str
) -> None:
    stored = typed(day, phone_door, text)["set"]
    assert isinstance(stored, dict)
    number, kept = stored["illuminance_lx"]
    assert float(number) == pytest.approx(lux, rel=1e-8), why
    assert kept.startswith(text)


def test_what_a_stop_was_converted_with_stands_beside_it(day: ADay, phone_door: Door) -> None:
    stored = typed(day, phone_door, "T2.8 3/10")["set"]
    assert isinstance(stored, dict)
    assert stored["illuminance_lx"][1] == "T2.8 3/10 at EI 800, 1/48 s, C 250"
    stored = typed(day, phone_door, "0.7 under")["set"]
    assert isinstance(stored, dict)
    assert stored["illuminance_lx"][1] == "0.7 under, T4 at EI 800, 1/48 s, C 250"


def test_a_bare_figure_is_meant_as_the_unit_that_was_picked(day: ADay, phone_door: Door) -> None:
    found = {
        way: typed(day, phone_door, "2", way=way)["shown"] for way in ("lx", "fc", "stop", "from_target")
    }
    assert {way: plain(str(text)) for way, text in found.items()} == {
        "lx": "2.0 lx",
        "fc": "22 lx",
        "stop": "60 lx",
        "from_target": "960 lx",
    }


def test_the_light_of_another_index_and_shutter_is_that_of_the_shot(day: ADay, phone_door: Door) -> None:
    """By hand: EI 400 and 1/96 s need four times the light of EI 800 and 1/48 s."""
    day.act(CAMERA_ASSISTANT, "shot", SHOT, exposure_index=400, shutter_angle_deg="90")
    found = typed(day, phone_door, "T4")
    assert (plain(str(found["shown"])), found["from_target"]) == (
        "960 lx",
        {"shown": "on the target", "stops": 0.0},
    )


@pytest.mark.parametrize("text", ["", "T", "bright", "T4 12", "T900", "1,234 lx", "50 over", "under", "59 m"])
def test_what_is_no_reading_is_refused_in_words(day: ADay, phone_door: Door, text: str) -> None:
    answer = json.loads(
        phone_door(json.dumps({"do": "read_meter", "shot": SHOT, "typed": text, "records": day.records}))
    )
    assert not answer["ok"]
    assert answer["sentence"]


def test_stops_from_a_target_that_is_not_set_say_no_level(day: ADay, phone_door: Door) -> None:
    day.act(CAMERA_ASSISTANT, "shot", SHOT, t_stop=None)
    asked = {"do": "read_meter", "shot": SHOT, "typed": "1 under", "records": day.records}
    answer = json.loads(phone_door(json.dumps(asked)))
    assert (answer["ok"], answer["code"]) == (False, "target_not_known")


# A sheet from readings alone


def with_three_readings(day: ADay, door: Door, **texts: str) -> None:
    day.act(CAMERA_ASSISTANT, "point", "wall", title="the panelling", scene="12", type="background")
    for role, text in texts.items():
        point = "wall" if role == "background" else FACE
        found = day.ask(door, "taken_for", shot=SHOT, point=f"point/{point}", role=role)
        fields = {**typed(day, door, text)["set"], **found["set"]}  # type: ignore[dict-item]
        day.act(GAFFER, "reading", f"r-{role}", shot=SHOT, point=point, role=role, **fields)


def test_a_sheet_works_from_three_readings_and_a_stop_alone(phone_door: Door) -> None:
    """By hand, from the stops alone: T2 is two stops under T4, T1.4 is three; (16 + 4) / 4 is 5 : 1."""
    day = ADay()
    day.act(CAMERA_ASSISTANT, "scene", "12", number="12", title="Saloon")
    day.act(CAMERA_ASSISTANT, "point", FACE, title="the Gambler's face", scene="12", type="face")
    day.act(CAMERA_ASSISTANT, "shot", SHOT, number="12C", scene="12", phase="setting", t_stop="T4")
    with_three_readings(day, phone_door, key="T4", fill="T2", background="T1.4")
    found = day.ask(phone_door)["sheet"]
    levels = {one["role"]: one for one in found["light"]["levels"]}
    assert {role: (one["kind"], one["stops"]["shown"]) for role, one in levels.items() if one["stops"]} == {
        "key": ("reading", "on the target"),
        "fill": ("reading", "2.0 stops under"),
        "background": ("reading", "3.0 stops under"),
        "all": ("range", "0.3 stops over"),  # key and fill: log2((16 + 4) / 16) = 0.32
    }
    assert levels["key"]["lux"] is None  # nobody said the index or the shutter: no lux
    assert found["light"]["key_to_fill"]["shown"] == "5 : 1"
    assert levels["fill"]["from_key"]["shown"] == "2.0 stops under the key"
    asked = {one["field"] for one in found["shot"]["target"]["missing"]}
    assert asked == {"exposure_index", "frame_rate_per_s", "shutter_angle_deg", "calibration_constant"}


def test_a_stop_that_was_read_tells_light_once_index_and_shutter_are_said(phone_door: Door) -> None:
    """By hand: T2 at EI 800, 1/48 s and C 250 is 60 lx."""
    day = ADay()
    day.act(CAMERA_ASSISTANT, "point", FACE, title="the Gambler's face", type="face")
    day.act(CAMERA_ASSISTANT, "shot", SHOT, number="12C", t_stop="T4")
    with_three_readings(day, phone_door, key="T2")
    day.act(
        CAMERA_ASSISTANT, "shot", SHOT, exposure_index=800, frame_rate_per_s="24", shutter_angle_deg="180",
        calibration_constant="250",
    )  # fmt: skip
    assert day.levels(phone_door)["key"]["lux"]["low"] == pytest.approx(60.0, rel=1e-9)


def test_readings_without_any_lamp_give_levels_contrast_and_spread(day: ADay, phone_door: Door) -> None:
    """By hand: 240, 80 and 30 lx: (240 + 80) / 80 = 4 : 1; 30 lx is 3 stops under the key; log2(320 / 30) = 3.4 stops."""
    day.remove(GAFFER, "source/key")
    day.act(GAFFER, "level", f"key~{SHOT}", on="no")
    with_three_readings(day, phone_door, key="240 lx", fill="80 lx", background="30 lx")
    found = day.ask(phone_door)["sheet"]["light"]
    levels = {one["role"]: one for one in found["levels"]}
    assert found["key_to_fill"]["shown"] == "4 : 1"
    assert levels["background"]["from_key"]["shown"] == "3.0 stops under the key"
    assert found["spread"]["shown"] == "3.4 stops"
    assert found["ladders"] == []


def test_positions_read_at_410_380_295_and_340_lux_spread_by_half_a_stop(day: ADay, phone_door: Door) -> None:
    """log2(410 / 295) = 0.4749 stop (definition of a stop)."""
    for place, lux in enumerate(("410 lx", "380 lx", "295 lx", "340 lx")):
        day.act(CAMERA_ASSISTANT, "point", f"p{place}", title=f"seat {place}", scene="12", type="face")
        day.read(f"r{place}", lux, role="key", point=f"p{place}")
    day.act(GAFFER, "level", f"key~{SHOT}", on="no")
    found = day.ask(phone_door)["sheet"]["light"]["spread"]
    assert found["low"] == pytest.approx(0.4749089553, abs=1e-9)
    assert found["line"] == "from Key, seat 2 to Key, seat 0"
