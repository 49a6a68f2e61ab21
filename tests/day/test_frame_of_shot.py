"""The frame of a shot on its sheet, on both Pythons. Figures are published or worked by hand, with their source."""

from __future__ import annotations

import math
from typing import Any

import pytest

from a_day import SHOT, ADay, Door
from people import ART_DIRECTOR, CAMERA_ASSISTANT, GAFFER, KEY_GRIP
from things_of_a_shot import SAFE, Figure, a_shot_in, asked_for, by_label, part, thing

# Super 35, four perforations, full aperture 24.89 x 18.66 mm, from memory.
SUPER_35 = {"sensor_width_mm": "24.89 mm", "sensor_height_mm": "18.66 mm"}
PLACED = {
    **SUPER_35, "lens_mm": "35 mm", "aspect_ratio": "1.85", "x_m": "0 m", "y_m": "0 m", "camera_height_m": "1.5 m",
    "pan_deg": "0", "tilt_deg": "0",
}  # fmt: skip


def a_frame(**setup: Any) -> ADay:
    day = a_shot_in()
    day.act(CAMERA_ASSISTANT, "setup", "wide", title="Wide", scene="12", **setup)
    day.act(CAMERA_ASSISTANT, "shot", SHOT, setup="wide")
    return day


def lens(door: Door, **setup: Any) -> dict[str, Figure]:
    return by_label(part(a_frame(**setup), door, "frame"))


def seen(day: ADay, door: Door, record: str) -> dict[str, Any]:
    return thing(part(day, door, "frame")["things"], record)


def test_the_angle_of_view_is_that_of_the_crop(phone_door: Door) -> None:
    """2 atan(w / 2f): 35 mm on 24.89 mm is 39.148 degrees; 29.853 up on 18.66 mm, 16.924 on a 2.39 crop."""
    full = lens(phone_door, **SUPER_35, lens_mm="35 mm")["Angle of view"]
    assert full["value"] == pytest.approx(39.14786643, rel=1e-9)
    assert full["shown"] == "39.1\u00b0 by 29.9\u00b0"
    crop = lens(phone_door, **SUPER_35, lens_mm="35 mm", aspect_ratio="2.39")["Angle of view"]
    assert crop["shown"] == "39.1\u00b0 by 16.9\u00b0"


def test_squeeze_widens_the_width_alone(phone_door: Door) -> None:
    """2x, 40 mm on 22 x 18.4 mm: 57.622 by 25.906 degrees (squeeze acts on the width only)."""
    sensor = {"sensor_width_mm": "22 mm", "sensor_height_mm": "18.4 mm", "squeeze_ratio": "2"}
    found = lens(phone_door, **sensor, lens_mm="40 mm")
    assert found["Angle of view"]["value"] == pytest.approx(57.62158749, rel=1e-9)
    assert found["Angle of view"]["shown"] == "57.6\u00b0 by 25.9\u00b0"


def test_the_field_at_the_subject_is_that_of_a_focused_lens(phone_door: Door) -> None:
    """w (u - f) / f: 50 mm, 2.5 m from the lens, 24.89 mm wide: 1.21961 m; a pinhole would give 1.2445 m."""
    found = lens(phone_door, **SUPER_35, lens_mm="50 mm", camera_distance_m="2.5 m")["Field at the subject"]
    assert found["value"] == pytest.approx(1.21961, rel=1e-9)


def depth(door: Door, t_stop: str, **setup: Any) -> Figure:
    day = a_frame(**SUPER_35, lens_mm="50 mm", camera_distance_m="3 m", **setup)
    day.act(CAMERA_ASSISTANT, "shot", SHOT, t_stop=t_stop)
    return by_label(part(day, door, "frame"))["Depth of field"]


def test_depth_of_field_goes_by_the_f_number_and_says_its_circle(phone_door: Door) -> None:
    """50 mm, f/2.8, circle 0.025 mm, 3 m: 2.7711 to 3.2701 m, 499.0 mm (Ray, Applied Photographic Optics, from memory).
    f/2.8 through 0.64 of the light is T3.5."""
    found = depth(phone_door, "T3.5", lens_transmittance_ratio="0.64", blur_mm="0.025 mm")
    assert found["value"] == pytest.approx(0.4990045885, rel=1e-6)
    assert found["shown"] == "2.77 m to 3.27 m"
    assert "circle of confusion 0.025 mm, f/2.8" in found["line"]
    usual = depth(phone_door, "T3.5")
    assert "0.0249 mm assumed" in usual["line"]
    assert usual["line"].endswith("reckoned from the T-stop at 80 % through the lens")
    assert asked_for(lens(phone_door, lens_mm="50 mm", camera_distance_m="3 m")["Depth of field"])[-1] == (
        "setup/wide",
        "blur_mm",
    )


def test_from_the_hyperfocal_distance_it_reaches_far(phone_door: Door) -> None:
    """50 mm, f/8, circle 0.030 mm: H is 10.46667 m, the near limit half of it (optics texts, from memory)."""
    day = a_frame(**SUPER_35, lens_mm="50 mm", camera_distance_m="10.46667 m", blur_mm="0.03 mm")
    day.act(CAMERA_ASSISTANT, "setup", "wide", lens_transmittance_ratio="1")
    day.act(CAMERA_ASSISTANT, "shot", SHOT, t_stop="T8")
    assert by_label(part(day, phone_door, "frame"))["Depth of field"]["shown"] == "5.23 m to far"


def a_lamp(day: ADay, *, x: str, y: str, height: str, side: str = "2 mm") -> None:
    size = {"face_width_m": side, "face_height_m": side}
    day.act(GAFFER, "source", "key", x_m=x, y_m=y, height_m=height, **size)


def test_a_boom_tip_outside_the_frame_is_told_with_its_place(phone_door: Door) -> None:
    """Pinhole projection: pan 6, tilt -4, 35 mm, 24.89 mm wide, 1.85: the tip at (0.9, 3.2, 2.35) falls 6.114 mm right
    and 11.740 mm up of the middle; half the picture is 12.445 by 6.727 mm."""
    day = a_frame(**{**PLACED, "pan_deg": "6", "tilt_deg": "-4"})
    a_lamp(day, x="0.9 m", y="3.2 m", height="2.35 m")
    found = seen(day, phone_door, "source/key")
    assert (found["state"], found["word"]) == ("out", "clear")
    middle = ((found["left"] + found["right"]) / 2, (found["bottom"] + found["top"]) / 2)
    assert middle[0] == pytest.approx(6.113616059 / 12.445, abs=1e-3)
    assert middle[1] == pytest.approx(11.74009236 / (24.89 / 1.85 / 2), abs=1e-3)


@pytest.mark.parametrize(("height", "state"), [("1.85 m", "in"), ("1.88 m", "edge"), ("2.1 m", "out")])
def test_the_lowest_clear_height_of_a_boom(height: str, state: str, phone_door: Door) -> None:
    """3 m ahead, tilt -4, 35 mm, 1.85: the frame's top edge is at 1.86196 m (trigonometry); 5 % margin is practice."""
    day = a_frame(**{**PLACED, "tilt_deg": "-4"})
    a_lamp(day, x="0 m", y="3 m", height=height)
    assert seen(day, phone_door, "source/key")["state"] == state


def test_a_thing_behind_the_camera_is_not_in_frame(phone_door: Door) -> None:
    """The division alone would put (0.1, -2, 1.45) inside the picture: its depth is below nought."""
    day = a_frame(**PLACED)
    a_lamp(day, x="0.1 m", y="-2 m", height="1.45 m")
    found = seen(day, phone_door, "source/key")
    assert (found["state"], found["left"]) == ("out", None)


def test_a_stand_that_crosses_the_picture_is_in_it_though_its_ends_are_not(phone_door: Door) -> None:
    """3 m away the picture reaches 0.577 m up and down of 1.5 m: a stand of 0 to 3 m has both ends outside, by hand."""
    day = a_frame(**PLACED)
    day.act(KEY_GRIP, "rig", "stand", source="key", title="Stand", x_m="0 m", y_m="3 m", top_height_m="3 m")
    found = seen(day, phone_door, "rig/stand")
    assert (found["state"], found["what"]) == ("in", "stand")
    assert found["top"] > 1
    assert found["bottom"] < -1


def test_a_moving_camera_is_looked_at_along_its_move(phone_door: Door) -> None:
    """A pan from 40 left to 40 right over a half angle of 19.6 degrees sees what is ahead at its middle alone."""
    day = a_frame(**{**PLACED, "pan_deg": "-40"}, end_pan_deg="40")
    a_lamp(day, x="0 m", y="4 m", height="1.5 m")
    found = seen(day, phone_door, "source/key")
    assert (found["state"], found["word"]) == ("in", "in frame, at the middle")
    assert [one["at"] for one in part(day, phone_door, "frame")["camera"]] == ["start", "middle", "end"]


def test_dressing_that_serves_the_shot_is_meant_to_be_seen_and_a_mark_is_not(phone_door: Door) -> None:
    day = a_frame(**PLACED)
    place = {"x_m": "0 m", "y_m": "4 m"}
    day.act(ART_DIRECTOR, "dressing", "chart", title="Chart", scene="12", base_height_m="0.8 m", **place)
    day.act(ART_DIRECTOR, "serves", f"chart~{SHOT}", dressing="chart", shot=SHOT, use="seen")
    day.act(CAMERA_ASSISTANT, "mark", "m", title="the Purser", shot=SHOT, **place)
    day.act(CAMERA_ASSISTANT, "setup", "wide", tilt_deg="-15")
    wanted = {record: seen(day, phone_door, record)["wanted"] for record in ("dressing/chart", "mark/m")}
    assert wanted == {"dressing/chart": True, "mark/m": False}
    assert seen(day, phone_door, "mark/m")["state"] == "in"


def test_what_has_no_place_is_told_and_a_camera_without_one_sees_nothing(phone_door: Door) -> None:
    found = part(a_frame(**SUPER_35, lens_mm="35 mm"), phone_door, "frame")
    assert found["camera"] == []
    assert found["path"] is None
    assert ("setup/wide", "pan_deg") in [(one["record"], one["field"]) for one in found["missing"]]
    unplaced = thing(found["unplaced"], "source/key")
    assert unplaced["fields"] == ["height_m", "x_m", "y_m"]
    day = a_frame(**SUPER_35, lens_mm="35 mm")
    a_lamp(day, x="0 m", y="3 m", height="1.5 m")
    assert seen(day, phone_door, "source/key")["word"] == "not known"


@pytest.mark.parametrize(("x", "in_the_way"), [("1.2 m", True), ("1.4 m", False)])
def test_what_stands_where_the_camera_and_its_people_go(x: str, in_the_way: bool, phone_door: Door) -> None:
    """A push along y with 1.5 m of floor behind the lens sweeps 0.75 m to each side; legs of 0.55 m at 1.2 m are
    0.1 m in it, at 1.4 m 0.1 m clear of it, by hand."""
    day = a_frame(**PLACED, end_y_m="3 m")
    legs = {"leg_radius_m": "0.55 m", "top_height_m": "2 m"}
    day.act(KEY_GRIP, "rig", "stand", source="key", title="Stand", x_m=x, y_m="1 m", **legs)
    path = part(day, phone_door, "frame")["path"]
    assert (path["moves"], path["caution"]["code"]) == (True, "path")
    assert [one["record"] for one in path["in_the_way"]] == (["rig/stand"] if in_the_way else [])
    if in_the_way:
        assert path["in_the_way"][0]["sentence"].replace("\u00a0", " ") == "Stand stands 0.1 m in the way"


def a_mirror(day: ADay, **changes: Any) -> None:
    pane = {
        "title": "Mirror", "scene": "12", "glass": "yes", "x_m": "0 m", "y_m": "4 m", "base_height_m": "1 m",
        "tall_m": "1 m", "width_m": "1 m", "faces_deg": "180",
    }  # fmt: skip
    day.act(ART_DIRECTOR, "dressing", "mirror", **{**pane, **changes})


def test_a_lamp_is_seen_in_flat_glass_where_its_image_falls(phone_door: Door) -> None:
    """Law of reflection: lens at (0, 0), lamp at (0.6, 2), both 1.5 m up, pane in the plane y = 4: the line from the
    lens to the image at (0.6, 6) crosses it at x = 0.4, a hand inside a pane of 1 m, and falls 0.1 of the depth
    right of the middle; 24.89 / 70 of the depth is half the picture. The camera sees itself too."""
    day = a_frame(**PLACED)
    a_lamp(day, x="0.6 m", y="2 m", height="1.5 m")
    a_mirror(day)
    images = part(day, phone_door, "frame")["glass"]
    assert {one["source"] for one in images} == {"source/key", ""}
    lamp = next(one for one in images if one["source"] == "source/key")
    assert lamp["right"] == pytest.approx(0.1 * 70 / 24.89, rel=1e-9)
    assert (lamp["record"], lamp["title"]) == ("dressing/mirror", "Key in Mirror")
    a_mirror(day, width_m="0.4 m")  # its edge at 0.2 m, and a lamp of 0.3 m reaches 0.15 m further: clear
    assert {one["source"] for one in part(day, phone_door, "frame")["glass"]} == {""}
    a_mirror(day, width_m="1 m", faces_deg="90")
    assert part(day, phone_door, "frame")["glass"] == []


def test_clear_glass_mirrors_a_twelfth_of_a_lamp_straight_on(phone_door: Door) -> None:
    """Fresnel, n = 1.52: R = (0.52 / 2.52)^2, both faces 2R / (1 + R) = 0.08168: 3.61 stops under the lamp."""
    day = a_frame(**PLACED)
    a_mirror(day)
    both_faces = 2 * (0.52 / 2.52) ** 2 / (1 + (0.52 / 2.52) ** 2)
    assert (
        f"about {-math.log2(both_faces):.1f} stops" in part(day, phone_door, "frame")["glass"][0]["sentence"]
    )


def test_glass_of_which_nobody_said_where_it_faces_is_asked_for(phone_door: Door) -> None:
    day = a_frame(**PLACED)
    a_mirror(day, faces_deg=None)
    found = part(day, phone_door, "frame")
    assert [(one["record"], one["field"]) for one in found["glass_missing"]] == [
        ("dressing/mirror", "faces_deg")
    ]


def even(door: Door, mains: str | None, angle: str, **lamp: Any) -> Figure:
    day = a_shot_in()
    day.act(GAFFER, "circuit", "wall", title="Wall", mains_hz=mains)
    day.act(GAFFER, "source", "key", circuit="wall", **lamp)
    day.act(CAMERA_ASSISTANT, "shot", SHOT, shutter_angle_deg=angle)
    return by_label(part(day, door, "frame"))["Even light"]


@pytest.mark.parametrize(("mains", "angle"), [("50 Hz", "172.8"), ("60 Hz", "144")])
def test_an_exposure_of_whole_pulses_is_even(mains: str, angle: str, phone_door: Door) -> None:
    """24 frames a second: 172.8 degrees at 50 Hz, 144 at 60 Hz hold whole pulses of twice the mains, by hand."""
    assert even(phone_door, mains, angle)["state"] == SAFE
    other = even(phone_door, mains, "180")
    assert other["state"] == "unknown"  # nobody said that the lamp pulses at all
    assert f"{angle}\u00b0" in other["line"]


def test_a_lamp_that_is_known_to_pulse_speaks_against_the_shutter(phone_door: Door) -> None:
    """100 pulses a second, 1/48 s: 2.0833 pulses an exposure, so one may hold a pulse more: 48 %, by hand."""
    found = even(phone_door, None, "180", pulse_hz="100 Hz")
    assert (found["state"], "48 %" in found["line"]) == ("over", True)
    assert even(phone_door, None, "180", pulse_hz="25000 Hz")["state"] == SAFE
    silent = even(phone_door, None, "180")
    assert (silent["state"], asked_for(silent)) == ("unknown", [("circuit/wall", "mains_hz")])


@pytest.mark.parametrize(("rate", "state"), [("3", "plain"), ("8", "over")])
def test_flashes_over_three_a_second_are_announced(rate: str, state: str, phone_door: Door) -> None:
    """Three flashes a second, W3C Web Content Accessibility Guidelines 2.3.1, used here as a caution."""
    day = a_shot_in()
    day.act(GAFFER, "source", "key", flashes_per_s=rate)
    found = by_label(part(day, phone_door, "frame"))["Flashes"]
    assert (found["state"], found["caution"]["code"]) == (state, "flash")
