"""The colour of a shot's light on its sheet, on both Pythons. Figures are published or worked by hand, with their source."""

from __future__ import annotations

from typing import Any

import colour
import numpy as np
import pytest

from a_day import FACE, SHOT, ADay, Door, a_ready_day
from people import CAMERA_ASSISTANT, GAFFER, KEY_GRIP


@pytest.fixture
def day() -> ADay:
    """A shot balanced for 3200 K, its bare key at 3200 K."""
    found = a_ready_day()
    found.act(CAMERA_ASSISTANT, "shot", SHOT, reference_colour_k="3200 K")
    found.act(GAFFER, "source", "key", colour_k="3200 K")
    return found


def told(day: ADay, door: Door) -> dict[str, Any]:
    found: dict[str, Any] = day.ask(door)["sheet"]["light"]["colour"]
    return found


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_differences_are_told_in_mired_and_their_threshold_is_named(day: ADay, phone_door: Door) -> None:
    """1e6 / T: 5600 K against 3200 K is 133.93 mired (definition)."""
    day.act(GAFFER, "source", "key", colour_k="5600 K")
    found = told(day, phone_door)
    [key] = found["sources"]
    assert key["match"]["off_low_mired"] == pytest.approx(-133.9285714, abs=1e-6)
    assert plain(key["match"]["shown"]) == "134 mired cooler, visible, tint not known"
    assert "5 mired" in found["threshold"]


@pytest.mark.parametrize(
    ("reference", "lamp", "visible"), [("3200 K", "3250 K", False), ("5600 K", "5800 K", True)]
)
def test_fifty_kelvin_are_not_seen_at_3200_and_two_hundred_are_at_5600(
    day: ADay, phone_door: Door, reference: str, lamp: str, visible: bool
) -> None:
    """About 5 mired just noticeable (Judd; Wyszecki and Stiles; from memory): 4.81 and 6.16 mired."""
    day.act(CAMERA_ASSISTANT, "shot", SHOT, reference_colour_k=reference)
    day.act(GAFFER, "source", "key", colour_k=lamp)
    assert told(day, phone_door)["sources"][0]["match"]["is_visible"] is visible


def test_what_to_change_is_a_strength_with_what_it_leaves(day: ADay, phone_door: Door) -> None:
    """2150 K to 2350 K is -39.58 mired: quarter blue (a quarter of 130.68) leaves -6.91 (mired arithmetic)."""
    day.act(CAMERA_ASSISTANT, "shot", SHOT, reference_colour_k="2350 K")
    day.act(GAFFER, "source", "key", colour_k="2150 K")
    match = told(day, phone_door)["sources"][0]["match"]
    assert (match["strength"], match["is_residual_visible"]) == ("quarter", True)
    assert match["residual_mired"] == pytest.approx(-6.913909631, abs=1e-6)
    assert plain(match["change"]) == (
        "add quarter blue, 7 mired left, still visible; it takes light too: read the level again"
    )


def test_a_layers_shift_adds_in_mired(day: ADay, phone_door: Door) -> None:
    """+112 mired on 4800 K is 3121.7 K, not 2700 (mired arithmetic)."""
    day.act(GAFFER, "source", "key", colour_k="4800 K")
    day.a_layer("gel", type="gel", title="Amber gel", shift_mired="112", transmittance_ratio="0.6")
    [key] = told(day, phone_door)["sources"]
    assert key["k_low"] == pytest.approx(3121.748179, rel=1e-8)
    assert [plain(one["shown"]) for one in key["layers"]] == ["+112 mired"]


def test_a_sheet_whose_shift_is_a_range_gives_a_range(day: ADay, phone_door: Door) -> None:
    """By hand: 312.5 + 10 to 312.5 + 30 mired are 3101 to 2920 K."""
    day.a_layer("grid", shift_low_mired="10", shift_mired="20", shift_high_mired="30")
    [key] = told(day, phone_door)["sources"]
    assert (key["k_low"], key["k_high"]) == (
        pytest.approx(1e6 / 342.5, rel=1e-9),
        pytest.approx(1e6 / 322.5, rel=1e-9),
    )
    assert plain(key["match"]["shown"]) == "10 to 30 mired warmer, visible, tint not known"


def test_a_sheet_that_nobody_described_leaves_the_colour_unknown(day: ADay, phone_door: Door) -> None:
    day.a_layer("grid")
    [key] = told(day, phone_door)["sources"]
    assert (key["kind"], key["match"]) == ("unknown", None)
    assert [(one["record"], one["field"]) for one in key["missing"]] == [("layer/grid", "shift_mired")]


def test_layers_that_leave_no_colour_are_questioned(day: ADay, phone_door: Door) -> None:
    """By hand: 10 000 K is 100 mired; -131 mired would leave -31."""
    day.act(GAFFER, "source", "key", colour_k="10000 K")
    day.a_layer("gel", type="gel", title="Blue gel", shift_mired="-131", transmittance_ratio="0.3")
    [key] = told(day, phone_door)["sources"]
    assert key["kind"] == "unknown"
    assert "check their mired" in key["line"]


def test_a_colour_that_was_read_behind_it_is_plain(day: ADay, phone_door: Door) -> None:
    day.a_layer("grid")
    day.read("r", "200 lx", colour_k="2950 K", duv="0.002")
    [key] = told(day, phone_door)["sources"]
    assert (key["kind"], plain(key["shown"])) == ("reading", "2950 K, green 0.0020")
    day.act(KEY_GRIP, "layer", "grid", title="Another sheet")
    assert told(day, phone_door)["sources"][0]["kind"] == "unknown"


def test_a_tint_is_unknown_until_somebody_read_it(day: ADay, phone_door: Door) -> None:
    day.act(CAMERA_ASSISTANT, "shot", SHOT, reference_duv="0")
    [key] = told(day, phone_door)["sources"]
    assert (key["duv"], key["match"]["is_tint_visible"]) == (None, None)
    assert ("source/key", "duv") in [(one["record"], one["field"]) for one in key["missing"]]
    day.act(GAFFER, "source", "key", duv="0.006")
    match = told(day, phone_door)["sources"][0]["match"]
    assert match["is_tint_visible"] is True  # 0.006 is plainly green (from memory)
    assert "minus green" in match["change"]


def test_without_a_reference_nothing_is_matched(day: ADay, phone_door: Door) -> None:
    day.act(CAMERA_ASSISTANT, "shot", SHOT, reference_colour_k=None)
    found = told(day, phone_door)
    assert found["sources"][0]["match"] is None
    assert found["reference"]["missing"][0]["field"] == "reference_colour_k"


def duv_of(x: float, y: float) -> tuple[float, float]:
    """Colour temperature and tint by an outside library (Ohno 2013)."""
    temperature, duv = colour.temperature.uv_to_CCT_Ohno2013(
        colour.UCS_to_uv(colour.XYZ_to_UCS(colour.xy_to_XYZ(np.array([x, y]))))
    )
    return float(temperature), float(duv)


def test_a_mix_is_made_in_xyz(day: ADay, phone_door: Door) -> None:
    """400 lx of 3200 K black body and 400 lx of 5600 K CIE daylight: 4152 K, Duv -0.0009 (additive mixing, CIE 15);
    the mean of the kelvins would say 4400, of the mireds 4073."""
    for source, xy in (("key", (0.42336, 0.39895)), ("second", (0.33016, 0.34555))):
        temperature, duv = duv_of(*xy)
        day.a_source(source, intensity_cd="1600 cd", colour_k=f"{temperature:.4f} K", duv=f"{duv:.8f}")
    [point] = told(day, phone_door)["points"]
    assert point["k"] == pytest.approx(4152.234261, abs=4.0)
    assert point["duv"] == pytest.approx(-0.0009156484438, abs=0.0002)
    assert point["line"] == "mixed by light, worked out"


def test_a_mix_with_a_tint_that_is_not_known_has_none_either(day: ADay, phone_door: Door) -> None:
    day.a_source("second", colour_k="5600 K")
    [point] = told(day, phone_door)["points"]
    assert point["duv"] is None
    assert "read their Duv" in point["line"]


def test_a_mix_needs_the_colour_of_all(day: ADay, phone_door: Door) -> None:
    day.a_source("second")
    [point] = told(day, phone_door)["points"]
    assert (point["kind"], point["line"]) == ("unknown", "not known: the colour of Second")


def test_a_dimmed_lamp_is_to_be_read_at_its_setting(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "level", f"key~{SHOT}", output_ratio="0.5")
    assert "tungsten turns warmer" in told(day, phone_door)["sources"][0]["line"]


def test_one_light_at_a_point_is_no_mix(day: ADay, phone_door: Door) -> None:
    assert told(day, phone_door)["points"] == []
    assert day.records[f"point/{FACE}"]


def three_readings(**of_fill: str) -> ADay:
    """A shot of which nothing is known but its stop and readings: the key at 3200 K, the fill, no colour at the wall."""
    day = ADay()
    day.act(CAMERA_ASSISTANT, "point", FACE, title="the face", type="face")
    day.act(CAMERA_ASSISTANT, "point", "wall", title="the wall", type="background")
    day.act(CAMERA_ASSISTANT, "shot", SHOT, number="12C", t_stop="T4")
    day.read("k", "240 lx", colour_k="3200 K")
    day.read("f", "80 lx", role="fill", **of_fill)
    day.read("b", "60 lx", role="background", point="wall")
    return day


def test_readings_alone_tell_how_the_fill_matches_the_key_and_what_is_not_known(phone_door: Door) -> None:
    """1e6 / T: 5600 K against 3200 K is 133.93 mired (definition)."""
    day = three_readings(colour_k="5600 K")
    found = told(day, phone_door)
    assert found["reference"]["missing"][0]["field"] == "reference_colour_k"
    assert [one["title"] for one in found["sources"]] == ["Key, the face", "Fill, the face"]
    key, fill = found["sources"]
    assert (key["kind"], plain(key["shown"]), key["match"]) == ("reading", "3200 K", None)
    assert plain(fill["match"]["shown"]) == "134 mired cooler, visible, tint not known, against the key"
    assert [one["missing"][0]["record"] for one in (key, fill)] == ["reading/k", "reading/f"]
    day.act(CAMERA_ASSISTANT, "shot", SHOT, reference_colour_k="5600 K")
    key, fill = told(day, phone_door)["sources"]
    assert plain(key["match"]["shown"]) == "134 mired warmer, visible, tint not known"
    assert plain(fill["match"]["shown"]) == "on the shot's colour, not visible, tint not known"


def test_without_a_colour_read_no_match_is_told(phone_door: Door) -> None:
    assert [one["title"] for one in told(three_readings(), phone_door)["sources"]] == ["Key, the face"]


def test_a_colour_that_was_read_before_the_set_up_moved_says_so_and_is_no_yardstick(phone_door: Door) -> None:
    day = three_readings(colour_k="5600 K")
    day.act(KEY_GRIP, "point", FACE, height_m="1.2 m")
    key, fill = told(day, phone_door)["sources"]
    assert "read again" in key["line"]
    assert fill["match"] is None


def test_a_range_that_reaches_what_is_not_seen_may_be_visible_and_asks_for_a_reading(
    day: ADay, phone_door: Door
) -> None:
    day.a_layer("grid", shift_low_mired="-5", shift_mired="2", shift_high_mired="10")
    [key] = told(day, phone_door)["sources"]
    assert "may be visible" in key["match"]["shown"]
    assert key["match"]["change"] == "read it before anything is added"


def test_a_tint_that_the_shot_lacks_is_told_apart_from_one_that_nobody_read(
    day: ADay, phone_door: Door
) -> None:
    day.act(GAFFER, "source", "key", duv="0.001")
    assert told(day, phone_door)["sources"][0]["match"]["shown"].endswith(
        "tint of the shot's colour not known"
    )
