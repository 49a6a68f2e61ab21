"""A place by distance and angle: the triangle, from a camera along its lens and from all else up the plan."""

from __future__ import annotations

import json

import pytest

from a_day import ADay, Door
from people import CAMERA_ASSISTANT


@pytest.mark.parametrize(
    ("thing", "distance", "angle", "place"),
    [
        # Straight on, square to the right, and 30 degrees: sin 30 is a half, cos 30 is 0.866 (definition).
        ("point/face", "2 m", "", ("1", "2.5")),
        ("point/face", "2 m", "90", ("3", "0.5")),
        ("point/face", "2", "30", ("2", "2.23")),
        ("point/face", "2", "-30", ("0", "2.23")),
        # The camera looks 90 degrees to the right: straight on is to the right.
        ("setup/wide", "3", "0", ("3", "-4")),
        ("setup/wide", "3", "-90", ("0", "-1")),
    ],
)
def test_a_place_by_distance_and_angle(
    phone_door: Door, thing: str, distance: str, angle: str, place: tuple[str, str]
) -> None:
    day = ADay()
    day.act(CAMERA_ASSISTANT, "point", "face", title="the face", x_m="1", y_m="0.5")
    day.act(CAMERA_ASSISTANT, "setup", "wide", title="Wide", x_m="0", y_m="-4", pan_deg="90")
    asked = {"do": "place", "from": thing, "distance": distance, "angle": angle, "records": day.records}
    found = json.loads(phone_door(json.dumps(asked)))["set"]
    assert [float(found[field][0]) for field in ("x_m", "y_m")] == [float(one) for one in place]


def test_nothing_is_placed_from_what_has_no_place_or_by_what_is_no_distance(phone_door: Door) -> None:
    day = ADay()
    day.act(CAMERA_ASSISTANT, "point", "face", title="the face")
    day.act(CAMERA_ASSISTANT, "point", "other", title="the other", x_m="0", y_m="0")
    for thing, distance in (("point/face", "2"), ("point/other", "far")):
        asked = {"do": "place", "from": thing, "distance": distance, "angle": "", "records": day.records}
        answer = json.loads(phone_door(json.dumps(asked)))
        assert not answer["ok"]
        assert answer["sentence"]
