"""A reading carried on: over moves and dimmers, to other shots, until the lamp changes. On both Pythons, worked by hand."""

from __future__ import annotations

from typing import Any

import pytest

from a_day import FACE, SHOT, ADay, Door, a_ready_day
from people import GAFFER, KEY_GRIP

OTHER = "12d"


@pytest.fixture
def day() -> ADay:
    """960 cd at 2 m: 240 lx by the inverse square; a meter reads 200 lx."""
    found = a_ready_day()
    found.remove(GAFFER, "reading/r-1")
    found.read("r", "200 lx")
    return found


def lux(day: ADay, door: Door, role: str = "key", **asked: Any) -> tuple[float, float]:
    level = day.levels(door, **asked)[role]
    return level["lux"]["low"], level["lux"]["high"]


def in_another_shot(day: ADay, distance: str) -> None:
    day.a_shot(OTHER)
    fields = {
        "source": "key",
        "shot": OTHER,
        "on": "yes",
        "role": "key",
        "point": FACE,
        "distance_m": distance,
    }
    day.act(GAFFER, "level", f"key~{OTHER}", **fields)


def read_alone(day: ADay, door: Door, record: str, text: str, shot: str = SHOT) -> None:
    """Take a reading as the app does: with what the rules say that it is of."""
    found = day.ask(door, "taken_for", shot=shot, point=f"point/{FACE}", role="key")["set"]
    fields = {"shot": shot, "point": FACE, "role": "key", "illuminance_lx": text, **found}
    day.act(GAFFER, "reading", record, **fields)


def test_a_lamp_moved_to_twice_the_distance_has_a_quarter_of_what_was_read(
    day: ADay, phone_door: Door
) -> None:
    """Inverse square law: 200 lx at 2 m is 50 lx at 4 m, whatever the lamp's sheet said of it."""
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="4 m")
    key = day.levels(phone_door)["key"]
    assert (key["kind"], key["fresh"]) == ("range", False)
    assert key["lux"]["low"] == pytest.approx(50.0, rel=1e-9)
    assert key["lux"]["high"] == pytest.approx(50.0, rel=1e-9)
    assert key["line"].startswith("worked out, carried on from the reading. Was 0.3 stops under, read ")


def test_a_reading_carries_on_where_nothing_is_known_of_the_lamp(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "source", "key", intensity_cd=None)
    day.read("again", "200 lx")
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="4 m")
    assert lux(day, phone_door) == pytest.approx((50.0, 50.0), rel=1e-9)


def test_a_dimmer_that_lets_half_through_halves_what_was_read(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", output_ratio="0.5")
    assert lux(day, phone_door) == pytest.approx((100.0, 100.0), rel=1e-9)


def test_a_dimmers_percent_carries_on_as_a_range_until_its_curve_is_known(
    day: ADay, phone_door: Door
) -> None:
    """By hand: half the percent leaves between 0.5 and 0.5^2.2 of the light (common practice); square leaves 0.25."""
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent="50 %")
    low, high = lux(day, phone_door)
    assert (low, high) == (pytest.approx(200.0 * 0.5**2.2, rel=1e-9), pytest.approx(100.0, rel=1e-9))
    day.act(GAFFER, "source", "key", dimmer_curve="square")
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent=None)
    day.read("again", "200 lx")
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent="50 %")
    assert lux(day, phone_door) == pytest.approx((50.0, 50.0), rel=1e-9)


def test_two_readings_at_two_settings_tell_the_curve(day: ADay, phone_door: Door) -> None:
    """By hand: 200 lx at 100 % and 50 lx at 50 % is a square law; 70 % is 98 lx."""
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent="50 %")
    day.read("half", "50 lx")
    day.act(GAFFER, "level", f"key~{SHOT}", dimmer_percent="70 %")
    assert lux(day, phone_door) == pytest.approx((98.0, 98.0), rel=1e-9)


def test_a_sheet_that_was_added_takes_what_the_model_says_from_what_was_read(
    day: ADay, phone_door: Door
) -> None:
    """The reading is 200 of 240 lx, so everything behind a new frame is 200 / 240 of the model's 20 : 960 cd at 3.5 m."""
    modelled = a_ready_day()
    modelled.remove(GAFFER, "reading/r-1")
    for one in (day, modelled):
        one.a_layer("grid")
    for carried, model in zip(lux(day, phone_door), lux(modelled, phone_door), strict=True):
        assert carried / model == pytest.approx(200.0 / 240.0, rel=1e-9)


@pytest.mark.parametrize("changed", ["lamp", "sheet", "flag"])
def test_a_correction_ends_where_the_lamp_or_a_sheet_is_another_one(
    day: ADay, phone_door: Door, changed: str
) -> None:
    day.remove(GAFFER, "reading/r")
    day.a_layer("grid")
    day.read("behind", "20 lx")
    if changed == "lamp":
        day.act(GAFFER, "source", "key", lamp="another head")
    elif changed == "sheet":
        day.act(KEY_GRIP, "layer", "grid", transmittance_ratio="0.6")
    else:
        day.a_layer("flag", type="flag", title="Solid flag", order=2, transmittance_ratio=None)
    light = day.ask(phone_door)["sheet"]["light"]
    assert light["corrections"] == []
    assert "carried on" not in light["levels"][0]["line"]


def test_a_reading_corrects_its_source_in_the_other_shots_and_says_so(day: ADay, phone_door: Door) -> None:
    """By hand: 200 lx where 240 were worked out is 0.263 stop less; at 4 m in the other shot 50 lx, not 60."""
    in_another_shot(day, "4 m")
    assert lux(day, phone_door, shot=OTHER) == pytest.approx((60.0, 60.0), rel=1e-9)  # it names no source
    read_alone(day, phone_door, "alone", "200 lx")
    light = day.ask(phone_door, shot=OTHER)["sheet"]["light"]
    [key] = light["levels"]
    assert (key["lux"]["low"], key["kind"]) == (pytest.approx(50.0, rel=1e-9), "range")
    assert "corrected as read " in key["line"]
    assert key["line"].endswith(", Electric in 12C")
    [correction] = light["corrections"]
    assert correction["ratio"] == pytest.approx(200.0 / 240.0, rel=1e-9)
    assert correction["stops"] == pytest.approx(-0.2630344058, abs=1e-9)
    assert correction["line"].startswith("Key gives 0.3 stops less than worked out, read ")


def test_a_correction_outlives_a_move_in_the_shot_that_it_was_read_in(day: ADay, phone_door: Door) -> None:
    in_another_shot(day, "4 m")
    read_alone(day, phone_door, "alone", "200 lx")
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="3 m")
    assert lux(day, phone_door, shot=OTHER) == pytest.approx((50.0, 50.0), rel=1e-9)


def test_the_newest_reading_of_a_source_corrects_it(day: ADay, phone_door: Door) -> None:
    in_another_shot(day, "4 m")
    read_alone(day, phone_door, "first", "200 lx")
    read_alone(day, phone_door, "second", "120 lx")
    assert lux(day, phone_door, shot=OTHER) == pytest.approx((30.0, 30.0), rel=1e-9)


def test_a_reading_of_two_lamps_corrects_neither(day: ADay, phone_door: Door) -> None:
    day.a_source("second")
    found = day.ask(phone_door, "taken_for", shot=SHOT, point=f"point/{FACE}", role="key")["set"]
    assert "of_source" not in found
    day.read("both", "500 lx")
    assert [one["reading"] for one in day.ask(phone_door)["sheet"]["light"]["corrections"]] == ["reading/r"]


def test_a_reading_of_two_lamps_carries_on_by_both(day: ADay, phone_door: Door) -> None:
    """By hand: 240 and 240 lx modelled, read 360; one moved to 4 m: 360 * (60 + 240) / 480 = 225 lx."""
    day.remove(GAFFER, "reading/r")
    day.a_source("second")
    day.read("both", "360 lx")
    day.act(GAFFER, "level", f"second~{SHOT}", distance_m="4 m")
    assert lux(day, phone_door) == pytest.approx((225.0, 225.0), rel=1e-9)


def test_a_reading_outside_of_what_is_known_asks_for_the_set_up(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "source", "key", intensity_low_cd="900 cd", intensity_high_cd="1000 cd")
    day.read("again", "60 lx")
    [correction] = day.ask(phone_door)["sheet"]["light"]["corrections"]
    assert correction["is_outside"]
    assert "check the set-up" in correction["line"]


def test_a_reading_that_remembers_nothing_is_not_carried_on(day: ADay, phone_door: Door) -> None:
    digest_alone = day.records["reading/r"]["taken_for"][1][0][1].split("\n")[0]
    day.act(GAFFER, "reading", "r", taken_for=digest_alone)
    assert day.levels(phone_door)["key"]["fresh"]
    day.act(GAFFER, "level", f"key~{SHOT}", distance_m="4 m")
    assert lux(day, phone_door) == pytest.approx((60.0, 60.0), rel=1e-9)  # the model alone


def test_what_a_reading_remembers_fits_its_field(day: ADay, phone_door: Door) -> None:
    for number in range(30):
        day.a_source(f"s{number}", role="fill")
        day.a_layer(f"sheet{number}", f"s{number}")
    found = day.ask(phone_door, "taken_for", shot=SHOT, point=f"point/{FACE}", role="all")["set"]
    reasons = day.ask(phone_door, "check", kind="reading", set=found)["reasons"]
    assert reasons == []


def test_a_sheet_that_was_swapped_and_put_back_is_the_one_that_was_read(phone_door: Door) -> None:
    day = a_ready_day()
    day.a_layer("grid")
    day.read("r-2", "100 lx")
    day.act(KEY_GRIP, "layer", "grid", title="Light frost", transmittance_ratio="0.8", shift_mired="5")
    assert day.levels(phone_door)["key"]["lux"]["low"] != pytest.approx(100.0, rel=1e-3)
    day.act(KEY_GRIP, "layer", "grid", title="Half grid cloth", transmittance_ratio="0.5", shift_mired=None)
    found = day.levels(phone_door)["key"]
    assert found["lux"]["low"] == found["lux"]["high"] == pytest.approx(100.0, rel=1e-9)
    assert not found["fresh"]  # it is carried on: whoever swapped may have hung another cut of the same cloth
