"""How soft each source is at its subject, on both Pythons. Figures are published or worked by hand, with their source."""

from __future__ import annotations

import math
from typing import Any

import pytest

from a_day import SHOT, ADay, Door, a_ready_day
from people import GAFFER, KEY_GRIP


@pytest.fixture
def day() -> ADay:
    """A key through a 4 by 4 ft sheet, 2 m before the face."""
    found = a_ready_day()
    found.a_layer("grid")
    return found


def soft(day: ADay, door: Door) -> dict[str, Any]:
    [found] = day.ask(door)["sheet"]["light"]["softness"]
    return dict(found)


def test_a_four_foot_frame_at_two_metres_fills_34_degrees(day: ADay, phone_door: Door) -> None:
    """2 atan(D / 2d) = 33.902 degrees; the small-angle D / d would say 34.9 (textbook geometry)."""
    found = soft(day, phone_door)
    assert found["width"]["deg"] == pytest.approx(33.90244, abs=1e-4)
    assert (found["width"]["shown"], found["height"]["shown"], found["from"]) == (
        "34\u00b0",
        "34\u00b0",
        "Half grid cloth",
    )


def test_a_wide_low_frame_is_soft_sideways_only(day: ADay, phone_door: Door) -> None:
    """By hand: 2.4 m at 2 m fills 61.93 degrees, 0.3 m fills 8.58."""
    day.act(KEY_GRIP, "layer", "grid", width_m="2.4 m", height_m="0.3 m")
    found = soft(day, phone_door)
    assert found["width"]["deg"] == pytest.approx(61.92751, abs=1e-4)
    assert found["height"]["deg"] == pytest.approx(8.57831, abs=1e-4)
    assert found["catchlight"]["shape"] == "wide, 8 to 1"
    assert found["wrap"]["width_deg"] > found["wrap"]["height_deg"]


def test_a_shadows_edge_is_as_wide_as_the_source_is_large_against_its_distance(
    day: ADay, phone_door: Door
) -> None:
    """p = S L2 / L1: 1.2192 m, 1.9 m to what throws it, 0.1 m to the skin: 64 mm (textbook geometry)."""
    found = soft(day, phone_door)["penumbra"]
    assert found["width_m"] == pytest.approx(1.2192 * 0.1 / 1.9, rel=1e-9)
    assert "64 mm sideways" in found["shown"].replace("\u00a0", " ")


def test_the_wrap_is_that_of_a_near_source_round_a_head(day: ADay, phone_door: Door) -> None:
    """atan2(a, D) + acos(R / sqrt(a^2 + D^2)) with a head of 0.09 m radius, its middle 2.09 m away."""
    a, far, head = 0.6096, 2.09, 0.09
    expected = math.degrees(math.atan2(a, far) + math.acos(head / math.sqrt(a * a + far * far)))
    assert soft(day, phone_door)["wrap"]["width_deg"] == pytest.approx(expected, abs=1e-9)


def test_only_the_lit_part_counts(day: ADay, phone_door: Door) -> None:
    """By hand: a quarter of the area is half of each side: 2 atan(0.3048 / 2) = 17.330 degrees."""
    day.act(KEY_GRIP, "layer", "grid", lit_share_ratio="0.25")
    assert soft(day, phone_door)["width"]["deg"] == pytest.approx(17.33040, abs=1e-4)


def test_sizes_alone_are_enough_no_material_and_no_intensity(day: ADay, phone_door: Door) -> None:
    day.act(GAFFER, "source", "key", intensity_cd=None)
    day.act(KEY_GRIP, "layer", "grid", transmittance_ratio=None)
    assert soft(day, phone_door)["width"]["deg"] == pytest.approx(33.90244, abs=1e-4)


def test_a_louvre_shows_as_a_grid_in_the_eye_and_makes_the_source_smaller(
    day: ADay, phone_door: Door
) -> None:
    """By hand: cells as deep as twice their width cut off at atan(1 / 2): 2 m before them at most 2 m are seen, here all;
    as deep as four times, 1 m of the 1.22 m."""
    louvre = {
        "type": "louvre",
        "title": "Fabric louvre",
        "order": 2,
        "gap_m": "0.01 m",
        "transmittance_ratio": None,
    }
    day.a_layer("louvre", **louvre, depth_to_width_ratio="4")
    found = soft(day, phone_door)
    assert found["catchlight"]["shape"] == "a grid of cells, square"
    assert found["width"]["deg"] == pytest.approx(math.degrees(2.0 * math.atan(0.25)), abs=0.2)


def test_a_bare_lamp_has_a_softness_once_its_face_is_measured(day: ADay, phone_door: Door) -> None:
    """By hand: 0.6 m at 2 m fills 17.06 degrees."""
    day.remove(KEY_GRIP, "layer/grid")
    assert day.ask(phone_door)["sheet"]["light"]["softness"] == []
    day.act(GAFFER, "source", "key", face_width_m="0.6 m", face_height_m="0.3 m")
    found = soft(day, phone_door)
    assert found["width"]["deg"] == pytest.approx(17.06154, abs=1e-4)
    assert (found["from"], found["catchlight"]["shape"]) == ("the lamp's own face", "wide, 2 to 1")


def test_light_that_goes_straight_through_leaves_a_hard_core(day: ADay, phone_door: Door) -> None:
    assert soft(day, phone_door)["hard_core"] == ""
    day.act(KEY_GRIP, "layer", "grid", direct_ratio="0.6")
    assert "straight from the lamp" in soft(day, phone_door)["hard_core"]


def test_each_point_is_told_in_stops_from_the_key(day: ADay, phone_door: Door) -> None:
    """By hand: 60 lx against 240 lx is two stops under."""
    day.read("k", "240 lx")
    day.a_source("fill", role="fill")
    day.read("f", "60 lx", role="fill")
    levels = day.levels(phone_door)
    assert (levels["fill"]["from_key"]["shown"], levels["key"]["from_key"]) == (
        "2.0 stops under the key",
        None,
    )
    day.act(GAFFER, "level", f"fill~{SHOT}", output_ratio="0.5")
    assert day.levels(phone_door)["fill"]["from_key"]["shown"] == "3.0 stops under the key"
