"""Lenses, frames, circuits, drinks, tape, flicker, glass and dimmers by a second route: solves, matrices, trying all."""

from __future__ import annotations

import cmath
import math
from itertools import product
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq, nnls

from tailslate.craft import (
    cable,
    dimmer,
    drinks,
    exposure,
    flicker,
    focus,
    food,
    frame,
    power,
    quadrature,
    reading,
    reflections,
    tape,
    view,
    ways_out,
)


@pytest.mark.parametrize("seed", range(15))
def test_depth_of_field_ends_where_the_blur_of_a_thin_lens_reaches_the_circle(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    focal, number, circle, distance = draw(0.018, 0.1), draw(1.4, 11), draw(1.5e-5, 3.5e-5), draw(0.6, 6)

    def blur(place: float) -> float:
        image, focus_image = 1 / (1 / focal - 1 / place), 1 / (1 / focal - 1 / distance)
        return focal / number * abs(image - focus_image) / image - circle

    found = focus.depth_of_field(focal, f_number=number, blur_m=circle, distance_m=distance)
    assert found["near_m"] == pytest.approx(brentq(blur, focal * 1.001, distance), rel=1e-6)
    if found["far_m"] is None:
        assert blur(1e9) <= 1e-9
    else:
        assert found["far_m"] == pytest.approx(brentq(blur, distance, 1e7), rel=1e-5)


def test_past_the_hyperfocal_distance_the_far_limit_is_infinity() -> None:
    start_m = focus.hyperfocal_m(0.05, f_number=8.0, blur_m=3e-5)
    found = focus.depth_of_field(0.05, f_number=8.0, blur_m=3e-5, distance_m=start_m)
    assert found["far_m"] is None
    assert found["total_m"] is None
    assert found["near_m"] == pytest.approx(start_m / 2, rel=0.003)


def turned_camera(pan_deg: float, tilt_deg: float) -> Any:
    """Rows: the camera's right, up and forward, by rotation matrices; x right, y up, z forward."""
    pan, tilt = math.radians(pan_deg), math.radians(tilt_deg)
    about_up = np.array([[math.cos(pan), 0, math.sin(pan)], [0, 1, 0], [-math.sin(pan), 0, math.cos(pan)]])
    about_right = np.array(
        [[1, 0, 0], [0, math.cos(tilt), math.sin(tilt)], [0, -math.sin(tilt), math.cos(tilt)]]
    )
    return (about_up @ about_right).T


@pytest.mark.parametrize("seed", range(40))
def test_a_point_falls_where_rotation_matrices_put_it(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    point, camera = draw(-4, 4, 3), draw(-1, 2, 3)
    pan, tilt, focal = draw(-180, 180), draw(-60, 60), draw(0.02, 0.1)
    right, up, depth = turned_camera(pan, tilt) @ (point - camera)
    seen = frame.seen_from_camera(tuple(point), camera=tuple(camera), pan_deg=pan, tilt_deg=tilt)
    assert seen == pytest.approx((right, up, depth), abs=1e-12)
    inside = depth > 0 and abs(focal * right / depth) <= 0.0124 and abs(focal * up / depth) <= 0.0067
    found = frame.is_in_frame(
        tuple(point),
        camera=tuple(camera),
        pan_deg=pan,
        tilt_deg=tilt,
        focal_length_m=focal,
        sensor_width_m=0.0248,
        sensor_height_m=0.0134,
    )
    assert found == inside


@pytest.mark.parametrize("across_m", [-0.7, 0.0, 0.9])
@pytest.mark.parametrize("tilt_deg", [-12.0, 0.0, 9.0])
def test_what_hangs_at_the_top_of_frame_lies_on_its_edge_at_any_side(
    across_m: float, tilt_deg: float
) -> None:
    height_m = frame.top_of_frame_m(
        3.0, camera_height_m=1.5, tilt_deg=tilt_deg, focal_length_m=0.035, sensor_height_m=0.0134
    )
    _, up_m = frame.on_sensor_m(
        (across_m, height_m, 3.0),
        camera=(0.0, 1.5, 0.0),
        pan_deg=0.0,
        tilt_deg=tilt_deg,
        focal_length_m=0.035,
    )
    assert up_m == pytest.approx(0.0067, rel=1e-9)


def test_a_margin_keeps_a_boom_out_that_just_misses_the_frame() -> None:
    facts: Any = {
        "camera": (0.0, 1.5, 0.0),
        "pan_deg": 0.0,
        "tilt_deg": 0.0,
        "focal_length_m": 0.035,
        "sensor_width_m": 0.0248,
        "sensor_height_m": 0.0134,
    }
    top_m = frame.top_of_frame_m(
        3.0, camera_height_m=1.5, tilt_deg=0.0, focal_length_m=0.035, sensor_height_m=0.0134
    )
    boom = (0.0, top_m + 0.02, 3.0)
    assert not frame.is_in_frame(boom, **facts)
    assert frame.is_in_frame(boom, margin_ratio=0.05, **facts)


@pytest.mark.parametrize("seed", range(15))
def test_the_neutral_carries_the_sum_of_three_phasors(seed: int) -> None:
    legs = np.random.default_rng(seed).uniform(0, 63, 3)
    whole = sum(leg * cmath.exp(2j * math.pi * number / 3) for number, leg in enumerate(legs))
    found = power.neutral_current_a(float(legs[0]), leg_2_a=float(legs[1]), leg_3_a=float(legs[2]))
    assert found == pytest.approx(abs(whole), rel=1e-9)


@pytest.mark.parametrize(
    ("readings", "percent"),
    # Worked examples of the NEMA MG 1 definition on public pages, read 2026-11-25.
    [([462.0, 463.0, 455.0], 1.1), ([203.0, 210.0, 212.0], 2.5), ([100.0, 110.0, 90.0], 10.0)],
)
def test_imbalance_is_the_largest_deviation_to_either_side(readings: list[float], percent: float) -> None:
    assert 100 * power.imbalance_ratio(readings) == pytest.approx(percent, abs=0.07)


def test_a_light_leg_counts_as_imbalance_though_no_other_split_would_help_the_heaviest() -> None:
    assert power.imbalance_ratio([48.0, 36.0, 20.0]) == pytest.approx(0.423077, abs=1e-6)
    assert power.heaviest_over_mean_ratio([48.0, 36.0, 20.0]) == pytest.approx(0.384615, abs=1e-6)


@pytest.mark.parametrize("seed", range(12))
def test_the_heaviest_leg_is_as_light_as_any_distribution_makes_it(seed: int) -> None:
    draw = np.random.default_rng(seed)
    loads = [float(load) for load in draw.integers(50, 2500, int(draw.integers(1, 9)))]
    least = min(
        max(sum(load for load, leg in zip(loads, legs, strict=True) if leg == place) for place in range(3))
        for legs in product(range(3), repeat=len(loads))
    )
    found: Any = power.balanced_legs(loads)
    assert found["is_best"]
    assert max(found["leg_w"]) == pytest.approx(least)
    assert sum(found["leg_w"]) == pytest.approx(sum(loads))


def test_a_long_list_of_loads_is_spread_well_and_says_when_it_stopped_searching() -> None:
    loads = [float(load) for load in np.random.default_rng(1).integers(50, 2500, 40)]
    found: Any = power.balanced_legs(loads)
    assert max(found["leg_w"]) <= sum(loads) / 3 * 1.02
    assert isinstance(found["is_best"], bool)


def test_published_resistances_of_both_tables() -> None:
    # NEC chapter 9 table 8 and IEC 60228 class 5, as in SOURCES.md.
    assert cable.ohm_per_m_awg("2/0") * 304.8 == pytest.approx(0.0967)
    assert cable.ohm_per_m_section("16") * 1000 == pytest.approx(1.21)
    # 2.5 mm2 lies between AWG 14 (2.08 mm2) and 12 (3.31 mm2), at the same temperature.
    warm = cable.ohm_per_m_section("2.5") * cable.warm_resistance_ratio(75.0)
    assert cable.ohm_per_m_awg("12") < warm < cable.ohm_per_m_awg("14")


@pytest.mark.parametrize("seed", range(40))
def test_a_mix_of_stocks_comes_as_near_as_scipys_non_negative_least_squares(seed: int) -> None:
    draw = np.random.default_rng(seed)
    stocks = draw.uniform(0, 1.5, (int(draw.integers(1, 5)), 3))
    target = draw.uniform(0, 0.8, 3)
    shares, miss = nnls(stocks.T, target)
    found = drinks.mixed_stocks(
        [float(v) for v in target], stocks=[[float(v) for v in row] for row in stocks]
    )
    assert found["miss"] == pytest.approx(miss, abs=1e-9)
    if len(stocks) <= 3:
        assert found["shares"] == pytest.approx(list(shares), abs=1e-7)


def test_a_topped_up_glass_takes_less_than_one_that_every_take_empties() -> None:
    facts: Any = {"glass_count": 2, "fill_ml": 120.0, "waste_ratio": 0.15, "spare_set_count": 2}
    worst = drinks.refilled_ml(reset_count=18, **facts)
    topped = drinks.topped_up_ml(reset_count=3, take_count=18, performer_count=2, swallowed_ml=30.0, **facts)
    assert topped == pytest.approx((3 * 240 + 18 * 2 * 30) * 1.15 + 480)
    assert topped < worst


def test_the_batch_clock_follows_the_food_code() -> None:
    # FDA Food Code 3-501.19: 4 h, or 6 h when it began at 41 degF or under and never passed 70 degF.
    assert food.minutes_left(0.0, start_degc=5.0, highest_degc=21.0) == 360
    assert food.minutes_left(0.0, start_degc=5.0, highest_degc=21.2) == 240
    assert food.minutes_left(0.0, start_degc=6.0, highest_degc=15.0) == 240
    assert food.minutes_left(400.0, start_degc=4.0, highest_degc=10.0) == 0
    assert food.minutes_left(None, start_degc=4.0, highest_degc=10.0) == 0
    assert pytest.approx(57.2222, abs=1e-3) == food.HOT_LIMIT_DEGC


def test_an_allergy_to_nuts_finds_every_kind_of_nut() -> None:
    assert food.conflicts(["Tree nuts", "peanuts", "milk"], avoids=["nuts "]) == ["Tree nuts", "peanuts"]
    assert food.conflicts(["milk"], avoids=["Milk powder"]) == ["milk"]
    assert food.conflicts(["milk"], avoids=[]) == []
    assert food.conflicts(["milk"], avoids=["", " "]) == []


def test_the_tape_left_is_the_sum_of_its_turns() -> None:
    turns, outer, core, thickness = 0.0, 0.115, 0.076, 0.0003
    radius = core / 2 + thickness / 2
    while radius < outer / 2:
        turns += 2 * math.pi * radius
        radius += thickness
    found = tape.left_on_roll_m(outer_diameter_m=outer, core_diameter_m=core, thickness_m=thickness)
    assert found == pytest.approx(turns, rel=2e-3)


def test_a_winding_is_the_length_of_the_unrolled_helix() -> None:
    # Unrolled, each turn is a slanted strip that climbs the free width of the tape.
    around, climb = math.pi * 0.035, 0.048 * 0.5
    exact = 0.6 / climb * math.hypot(around, climb)
    found = tape.tube_wrap_m(tube_diameter_m=0.035, wrapped_m=0.6, tape_width_m=0.048, overlap_ratio=0.5)
    assert found == pytest.approx(exact, rel=0.03)


@pytest.mark.parametrize("frame_rate", [23.976, 24.0, 25.0, 30.0, 50.0])
@pytest.mark.parametrize("mains", [50.0, 60.0])
def test_an_even_angle_catches_the_same_light_at_every_phase(frame_rate: float, mains: float) -> None:
    phases = np.linspace(0, 1, 37)
    for angle in flicker.even_angles_deg(frame_rate, mains_hz=mains):
        exposure_s = angle / 360 / frame_rate
        # Light as sin**2 of the mains; its integral over the exposure, by a fine sum.
        times = (np.arange(4000) + 0.5) / 4000 * exposure_s
        light = [np.mean(np.sin(2 * math.pi * mains * times + math.pi * phase) ** 2) for phase in phases]
        assert max(light) - min(light) < 1e-9
        assert flicker.exposure_swing_ratio(
            flicker.pulses_per_exposure(angle, frame_rate_per_s=frame_rate, pulse_hz=2 * mains)
        ) == pytest.approx(0.0)


def test_an_angle_between_swings_by_no_more_than_a_pulse() -> None:
    pulses = flicker.pulses_per_exposure(180.0, frame_rate_per_s=24.0, pulse_hz=100.0)
    counts = [math.floor(start + pulses) - math.floor(start) for start in np.linspace(0, 1, 997)]
    assert (max(counts) - min(counts)) / pulses == pytest.approx(flicker.exposure_swing_ratio(pulses))
    assert flicker.beat_hz(23.976, pulse_hz=120.0) == pytest.approx(0.12)


@pytest.mark.parametrize("seed", range(15))
def test_a_reflection_stands_where_the_path_is_shortest(seed: int) -> None:
    # Fermat: over the pane z = 2 the bounce from lens to lamp is shortest at the mirror point.
    draw = np.random.default_rng(seed).uniform
    camera, lamp = np.array([*draw(-2, 2, 2), 0.0]), np.array([*draw(-2, 2, 2), draw(-1, 1)])
    place = reflections.reflection_point(
        camera=tuple(camera), lamp=tuple(lamp), pane=(5.0, 1.0, 2.0), pane_normal=(0.0, 0.0, -3.0)
    )
    assert place is not None
    assert place[2] == pytest.approx(2.0)

    def path(x: float, y: float) -> float:
        spot = np.array([x, y, 2.0])
        return float(np.linalg.norm(spot - camera) + np.linalg.norm(lamp - spot))

    shortest = path(place[0], place[1])
    for turn in np.linspace(0, 2 * math.pi, 24):
        assert path(place[0] + 0.05 * math.cos(turn), place[1] + 0.05 * math.sin(turn)) > shortest


def test_a_lamp_behind_the_glass_has_no_reflection_in_it() -> None:
    facts: Any = {"pane": (0.0, 0.0, 2.0), "pane_normal": (0.0, 0.0, -1.0)}
    assert reflections.reflection_point(camera=(0.0, 0.0, 0.0), lamp=(0.0, 0.0, 3.0), **facts) is None


def test_a_pane_mirrors_eight_percent_straight_on_and_more_at_a_slant() -> None:
    # Two faces of window glass: 4 % each less what is lost between them, about 8 % (optics textbooks).
    assert reflections.pane_reflectance_ratio(0.0, refractive_index=1.5) == pytest.approx(0.0769, abs=1e-4)
    # At Brewster's angle one polarisation vanishes, the other has ((n2 - 1) / (n2 + 1))2 a face.
    brewster = math.degrees(math.atan(1.5))
    face = ((1.5**2 - 1) / (1.5**2 + 1)) ** 2
    expected = face / (1 + face)
    assert reflections.pane_reflectance_ratio(brewster, refractive_index=1.5) == pytest.approx(expected)
    assert reflections.pane_reflectance_ratio(80.0) > 0.5
    place = (0.0, 0.0, 2.0)
    found = reflections.mirror_incidence_deg(
        camera=(2.0, 0.0, 0.0), place=place, pane_normal=(0.0, 0.0, -1.0)
    )
    assert found == pytest.approx(45.0)


def test_six_points_integrate_what_gauss_legendre_integrates() -> None:
    nodes, weights = np.polynomial.legendre.leggauss(6)
    found = quadrature.places(0.0, 2.0)
    assert [place for place, _ in found] == pytest.approx(list(nodes + 1))
    assert [weight for _, weight in found] == pytest.approx(list(weights))
    assert quadrature.places(1.0, 1.0) == []


def test_exposure_anchors_lie_within_half_a_stop() -> None:
    # 100 fc, EI 100, 1/48 s: f/2.8 by the handbook anchor, between the flat and the dome constant.
    stops = {
        constant: exposure.stop_number(
            1076.391, exposure_index=100.0, time_s=1 / 48, calibration_constant=constant
        )
        for constant in (250.0, 340.0)
    }
    assert stops[340.0] < 2.8 < stops[250.0]
    assert exposure.stop_difference_stops(stops[250.0], reference=stops[340.0]) == pytest.approx(
        0.44, abs=0.01
    )
    value = exposure.exposure_value(stops[250.0], time_s=1 / 48)
    assert math.sqrt(1 / 48 * 2**value) == pytest.approx(stops[250.0])


@pytest.mark.parametrize(("magnification", "loss"), [(0.0, 0.0), (0.5, 1.17), (1.0, 2.0)])
def test_a_close_insert_loses_light(magnification: float, loss: float) -> None:
    assert exposure.close_up_loss_stops(magnification) == pytest.approx(loss, abs=0.005)


def test_magnification_is_sensor_over_field() -> None:
    field_m = view.field_width_m(0.024, focal_length_m=0.1, distance_m=0.4)
    assert focus.magnification_ratio(0.1, distance_m=0.4) == pytest.approx(0.024 / field_m)


def test_one_reading_gives_a_range_of_dimmer_settings_and_two_give_a_figure() -> None:
    wide = dimmer.dimmer_setting_ratio(60.0, readings=[(1.0, 240.0)])
    assert wide is not None
    assert wide["low"] == pytest.approx(0.25)
    assert wide["high"] == pytest.approx(0.25 ** (1 / 2.2))
    # A lamp whose light goes as the setting to the power 1.7, read twice.
    readings = [(0.4, 240 * 0.4**1.7), (1.0, 240.0)]
    sharp = dimmer.dimmer_setting_ratio(60.0, readings=readings)
    assert sharp is not None
    assert sharp["low"] == sharp["high"] == pytest.approx((60 / 240) ** (1 / 1.7))
    assert wide["low"] <= sharp["typical"] <= wide["high"]
    assert dimmer.dimmer_setting_ratio(300.0, readings=readings) is None
    assert (
        dimmer.full_output_lx([(0.4, 240 * 0.4**1.7)])["low"]
        < 240
        < dimmer.full_output_lx([(0.4, 240 * 0.4**1.7)])["high"]
    )
    assert dimmer.full_output_lx(readings)["typical"] == pytest.approx(240.0)


def test_what_the_model_does_not_know_of_the_lamp_cancels_after_a_reading() -> None:
    # The lamp is twice what was thought; moved from 2 m to 3 m, only the distance counts.
    then = {"low": 50.0, "typical": 100.0, "high": 200.0}
    now = {name: level * (2 / 3) ** 2 for name, level in then.items()}
    found = reading.level_after_change_lx(200.0, modelled_then_lx=then, modelled_now_lx=now)  # type: ignore[arg-type]
    for level in (found["low"], found["typical"], found["high"]):
        assert level == pytest.approx(200 * 4 / 9)
    assert reading.correction_ratio(200.0, modelled_lx=then) == 2.0  # type: ignore[arg-type]
    assert reading.is_within_model(200.0, modelled_lx=then)  # type: ignore[arg-type]
    assert not reading.is_within_model(201.0, modelled_lx=then)  # type: ignore[arg-type]


def test_the_ways_out_are_ranked_enough_first_then_quick_then_ample() -> None:
    soft = {"width_m": 1.2, "height_m": 1.2, "distance_m": 2.0}
    near = {"width_m": 1.2, "height_m": 1.2, "distance_m": 1.4}
    ways = [
        ways_out.changing_light(
            1.0,
            way="move_in",
            level_lx=100.0,
            new_level_lx=170.0,
            source=soft,
            new_source=near,
            minutes=5.0,
        ),
        ways_out.changing_light(
            1.0,
            way="drop_layer",
            level_lx=100.0,
            new_level_lx=220.0,
            source=soft,
            new_source=None,
            minutes=3.0,
        ),
        ways_out.opening_up(1.0, stop=4.0, widest_stop=2.0, minutes=1.0),
        ways_out.raising_index(1.0, exposure_index=800.0, highest_index=3200.0),
        ways_out.opening_up(1.0, stop=2.0, widest_stop=2.8),
    ]
    ranked = ways_out.ranked(ways)
    assert [way["way"] for way in ranked] == ["open_up", "drop_layer", "raise_index", "move_in"]
    assert ranked[1]["cost"]["width_change_deg"] < -30  # a bare lamp is hard
    assert ranked[3]["cost"]["width_change_deg"] > 0
    assert not ranked[3]["is_enough"]
    assert ranked[0]["cost"]["new_stop"] == pytest.approx(4 / math.sqrt(2))


def test_a_range_in_stops_keeps_its_ends() -> None:
    found = reading.range_stops({"low": 87.5, "typical": 350.0, "high": 700.0}, reference_lx=350.0)
    assert found == {"low": -2.0, "typical": 0.0, "high": 1.0}
