"""The set from above on paper: what is placed stands where it was placed, what is not is named, what is off is left out."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from a_day import ADay
from people import ART_DIRECTOR, GAFFER
from tailslate.day.gathered import Gathered
from tailslate.pack.drawing import from_above

SVG = "{http://www.w3.org/2000/svg}"
CAMERA = {"at": "start", "x_m": 0.0, "y_m": -3.0, "pan_deg": 0.0, "half_angle_ratio": 1.0}


def metres(value: float) -> list[str]:
    return [str(value), f"{value} m"]


def placed(x_m: float, y_m: float) -> dict[str, list[str]]:
    return {"x_m": metres(x_m), "y_m": metres(y_m)}


@pytest.fixture
def day() -> ADay:
    day = ADay()
    day.act(GAFFER, "scene", "12", number="12", title="Saloon")
    day.act(GAFFER, "shot", "a", number="12A", title="Wide", scene="12")
    day.act(GAFFER, "point", "face", title="the face", scene="12", **placed(0, 0))
    day.act(GAFFER, "source", "key", title="Key", scene="12", **placed(3, 4))
    day.act(GAFFER, "rig", "stand", title="Stand 1", source="key", **placed(3.1, 4))
    day.act(GAFFER, "level", "key~a", source="key", shot="a", on="yes", point="face")
    day.act(GAFFER, "source", "spare", title="Spare", scene="12", **placed(-3, 0))
    day.act(GAFFER, "level", "spare~a", source="spare", shot="a", on="no")
    day.act(ART_DIRECTOR, "dressing", "chart", title="Chart <b>", scene="12", **placed(1, 0))
    day.act(ART_DIRECTOR, "dressing", "curtain", title="Curtain", scene="12")
    return day


def drawn(day: ADay, camera: list[dict[str, object]], state: str = "out") -> tuple[str, list[str]]:
    chart = {"record": "dressing/chart", "state": state, "wanted": False}
    return from_above(Gathered(day.records), shot="shot/a", frame={"camera": camera, "things": [chart]})


def test_each_thing_is_named_once_and_what_is_off_or_not_placed_is_not_drawn(day: ADay) -> None:
    svg, lines = drawn(day, [CAMERA])
    assert lines == ["1 Key, Stand 1; 2 Chart <b>; 3 the face.", "Not placed: Curtain."]
    numbers = [one.text for one in ElementTree.fromstring(svg).iter(SVG + "text")]
    assert numbers == ["1", "2", "3", "1 m"]


def test_places_keep_their_distances_and_away_is_up_the_page(day: ADay) -> None:
    """From face to key 3 m across and 4 m away: 5 m by Pythagoras; the bar beside it is one metre."""
    svg, _lines = drawn(day, [CAMERA])
    throw = re.search(r'<polyline points="([\d., -]+)" fill="none" stroke="black" stroke-width="0.85"/>', svg)
    bar = re.search(r"M11,[\d.]+ V[\d.]+ H([\d.]+) V", svg)
    assert throw
    assert bar
    (key_x, key_y), (face_x, face_y) = [[float(one) for one in spot.split(",")] for spot in throw[1].split()]
    metre_pt = float(bar[1]) - 11
    assert math.hypot(key_x - face_x, key_y - face_y) == pytest.approx(5 * metre_pt, abs=0.05)
    assert (key_x - face_x, face_y - key_y) == pytest.approx((3 * metre_pt, 4 * metre_pt), abs=0.05)


def test_what_stands_in_the_picture_says_so(day: ADay) -> None:
    _svg, lines = drawn(day, [CAMERA], state="in")
    assert "2 Chart <b> (IN FRAME)" in lines[0]


def test_a_floor_on_which_hardly_anything_is_placed_is_not_drawn(day: ADay) -> None:
    empty = ADay()
    empty.act(GAFFER, "scene", "12", number="12", title="Saloon")
    empty.act(GAFFER, "shot", "a", number="12A", title="Wide", scene="12")
    empty.act(ART_DIRECTOR, "dressing", "curtain", title="Curtain", scene="12")
    assert drawn(empty, []) == ("", ["Not placed: Curtain."])
