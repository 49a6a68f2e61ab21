"""Inputs that cannot be, or that nobody knows, are refused with field, value, limit and next step."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from tailslate.craft import (
    battery,
    beam,
    bounce,
    colour,
    contrast,
    crew,
    dimmer,
    drinks,
    exposure,
    flicker,
    focus,
    food,
    frame,
    layers,
    network,
    odds,
    photometry,
    power,
    ranges,
    softness,
    stand,
    tape,
    units,
    view,
    walkway,
    wind,
)
from tailslate.craft.errors import RuleError

LENS = {"focal_length_m": 0.05}
TASK: Any = {"id": "A", "duration_min": 5.0, "after": []}

REFUSED: list[tuple[str, str, Callable[[], object]]] = [
    ("a sheet passes more than it gets", "outside_range", lambda: exposure.loss_stops(1.2)),
    (
        "a sheet passes and returns more than it gets",
        "layer_makes_light",
        lambda: layers.check_layer(transmittance_ratio=0.6, reflectance_ratio=0.55),
    ),
    (
        "a reflectance below 0",
        "outside_range",
        lambda: layers.check_layer(transmittance_ratio=0.5, reflectance_ratio=-0.1),
    ),
    (
        "two perfect mirrors",
        "no_way_out",
        lambda: layers.return_gain(reflectance_ratio=1.0, behind_ratio=1.0, exchange_ratio=1.0),
    ),
    (
        "a T-stop under the f-number",
        "t_under_f",
        lambda: exposure.lens_transmittance_ratio(2.8, t_number=2.5),
    ),
    ("a meter constant nobody uses", "constant_unusual", lambda: exposure.checked_constant(239.0)),
    ("a meter constant nobody uses", "constant_unusual", lambda: exposure.checked_constant(541.0)),
    ("a distance of 0", "not_positive", lambda: photometry.point_illuminance_lx(100.0, distance_m=0.0)),
    (
        "a frame at distance 0",
        "not_positive",
        lambda: photometry.rectangle_illuminance_lx(1.0, width_m=1.0, height_m=1.0, distance_m=0.0),
    ),
    ("no number", "not_a_number", lambda: photometry.point_illuminance_lx(math.nan, distance_m=1.0)),
    ("no end", "not_a_number", lambda: photometry.point_illuminance_lx(1.0, distance_m=math.inf)),
    ("a yes for a number", "not_a_number", lambda: photometry.point_illuminance_lx(True, distance_m=1.0)),
    (
        "text for a number",
        "not_a_number",
        lambda: photometry.point_illuminance_lx("1", distance_m=1.0),  # type: ignore[arg-type]
    ),
    (
        "nothing for a number",
        "not_a_number",
        lambda: photometry.point_illuminance_lx(None, distance_m=1.0),  # type: ignore[arg-type]
    ),
    ("0 kelvin", "not_positive", lambda: units.mired_from_k(0.0)),
    ("a shift past the end", "not_positive", lambda: colour.shifted_k(5000.0, shift_mired=-250.0)),
    ("a colour far from white", "off_locus", lambda: colour.colour_temperature(0.3, y=0.6)),
    ("a mix of nothing", "nothing_to_mix", lambda: colour.mixture([])),
    (
        "more stock than the glass holds",
        "stock_too_weak",
        lambda: drinks.stock_ratio(3.0, stock_per_cm=0.2, path_cm=6.0),
    ),
    ("an allergy nobody asked about", "answer_unknown", lambda: food.conflicts(["milk"], avoids=None)),
    ("a drink nobody knows", "contents_unknown", lambda: food.conflicts(None, avoids=[])),
    ("a stand on two legs", "outside_range", lambda: stand.tipping_edge_m(0.5, leg_count=2)),
    (
        "a load without a rating",
        "rating_unknown",
        lambda: stand.check_rating(1.0, rating=None, unit="kg", what="the arm"),
    ),
    (
        "a load over its rating",
        "over_rating",
        lambda: stand.check_rating(9.0, rating=8.0, unit="kg", what="the arm"),
    ),
    (
        "a safety factor under 1",
        "outside_range",
        lambda: stand.bag_kg(5.0, offset_m=1.0, stand_kg=8.0, leg_radius_m=0.5, safety_ratio=0.8),
    ),
    ("outdoors without a wind limit", "limit_unknown", lambda: wind.check_wind_limit(None, gust_m_s=1.0)),
    (
        "a power factor of 0",
        "not_positive",
        lambda: power.current_a(100.0, voltage_v=120.0, power_factor_ratio=0.0),
    ),
    (
        "a power factor over 1",
        "outside_range",
        lambda: power.current_a(100.0, voltage_v=120.0, power_factor_ratio=1.01),
    ),
    ("supplies that leak too much", "leakage_high", lambda: power.check_leakage([3.5] * 3, device_ma=30.0)),
    (
        "estimates that do not rise",
        "order_wrong",
        lambda: odds.three_point_min(10.0, likely_min=8.0, latest_min=20.0),
    ),
    (
        "estimates that do not rise",
        "order_wrong",
        lambda: odds.three_point_min(5.0, likely_min=8.0, latest_min=7.0),
    ),
    (
        "low over typical",
        "order_wrong",
        lambda: ranges.range_of(0.5, 0.4, 0.6, field="transmittance_ratio", unit=""),
    ),
    (
        "a ring of tasks",
        "cycle",
        lambda: network.critical_path(
            [
                {"id": "A", "duration_min": 5.0, "after": ["B"]},
                {"id": "B", "duration_min": 5.0, "after": ["A"]},
            ]
        ),
    ),
    (
        "a task waiting for itself",
        "cycle",
        lambda: network.critical_path([{"id": "A", "duration_min": 5.0, "after": ["A"]}]),
    ),
    (
        "a task waiting for nobody's",
        "task_unknown",
        lambda: network.critical_path([{"id": "A", "duration_min": 5.0, "after": ["Z"]}]),
    ),
    ("two tasks of one name", "id_twice", lambda: network.critical_path([TASK, TASK])),
    (
        "a task of negative time",
        "negative",
        lambda: network.critical_path([{"id": "A", "duration_min": -1.0, "after": []}]),
    ),
    (
        "more hands than there are",
        "crew_too_small",
        lambda: crew.crew_schedule([{**TASK, "hands": {"grip": 3}}], capacity={"grip": 2}),
    ),
    (
        "an object behind the camera",
        "behind_camera",
        lambda: frame.on_sensor_m(
            (0.0, 1.5, -2.0), camera=(0.0, 1.5, 0.0), pan_deg=0.0, tilt_deg=0.0, **LENS
        ),
    ),
    (
        "focus inside the lens",
        "too_near",
        lambda: focus.depth_of_field(0.05, f_number=2.8, blur_m=0.00003, distance_m=0.04),
    ),
    (
        "a field inside the lens",
        "too_near",
        lambda: view.field_width_m(0.024, focal_length_m=0.05, distance_m=0.05),
    ),
    ("a ratio of 1 to 1", "not_positive", lambda: contrast.fill_for_ratio_lx(600.0, ratio=1.0)),
    ("a ratio without fill", "not_positive", lambda: contrast.contrast_ratio(600.0, fill_lx=0.0)),
    ("a spread of nothing", "nothing_to_compare", lambda: contrast.spread_stops([])),
    (
        "a beam of 0",
        "not_positive",
        lambda: beam.intensity_ratio(off_axis_deg=0.0, beam_deg=0.0),
    ),
    (
        "a full overlap",
        "not_positive",
        lambda: tape.tube_wrap_m(tube_diameter_m=0.03, wrapped_m=1.0, tape_width_m=0.05, overlap_ratio=1.0),
    ),
    (
        "a roll thinner than its core",
        "order_wrong",
        lambda: tape.left_on_roll_m(outer_diameter_m=0.05, core_diameter_m=0.08, thickness_m=0.0003),
    ),
    (
        "a dimmer that gets darker",
        "order_wrong",
        lambda: dimmer.dimmer_setting_ratio(10.0, readings=[(0.5, 100.0), (1.0, 80.0)]),
    ),
    (
        "a table behind its own edge",
        "not_positive",
        lambda: bounce.tabletop_ratio(near_edge_m=0.8, far_edge_m=0.5, left_m=1.0, right_m=1.0, height_m=0.4),
    ),
    (
        "a source of half the sky and more",
        "outside_range",
        lambda: softness.wrap_ratio(half_angle_deg=95.0, from_source_deg=10.0),
    ),
    ("a bump below the floor", "negative", lambda: walkway.bump_needs(-0.001)),
    ("no mains", "not_positive", lambda: flicker.even_angles_deg(24.0, mains_hz=0.0)),
    (
        "a battery that is all cold",
        "not_positive",
        lambda: battery.run_time_h(60.0, energy_wh=90.0, usable_ratio=0.8, cold_ratio=0.0),
    ),
]


@pytest.mark.parametrize(
    ("what", "code", "call"), REFUSED, ids=[f"{what}-{code}" for what, code, _ in REFUSED]
)
def test_it_is_refused_in_words(what: str, code: str, call: Callable[[], object]) -> None:
    with pytest.raises(RuleError) as refused:
        call()
    error = refused.value
    assert error.code == code, what
    assert str(error) == error.sentence
    # A person needs the next step, and it stands after the fault.
    assert ";" in error.sentence or ":" in error.sentence


@pytest.mark.parametrize("constant", [240.0, 250.0, 340.0, 540.0])
def test_a_usual_meter_constant_is_taken_and_an_unusual_one_once_confirmed(constant: float) -> None:
    assert exposure.checked_constant(constant) == constant
    assert exposure.checked_constant(constant * 3, is_confirmed=True) == constant * 3


def test_the_limits_themselves_are_taken() -> None:
    layers.check_layer(transmittance_ratio=0.6, reflectance_ratio=0.4)
    layers.check_layer(transmittance_ratio=0.1 + 0.2, reflectance_ratio=0.7)
    assert exposure.lens_transmittance_ratio(2.0, t_number=2.0) == 1.0
    assert power.current_a(120.0, voltage_v=120.0, power_factor_ratio=1.0) == 1.0
    power.check_leakage([3.0, 3.0, 3.0], device_ma=30.0)
    assert walkway.bump_needs(0.0064) == "flush"
    assert walkway.bump_needs(0.00641) == "bevel"
    assert walkway.bump_needs(0.013) == "bevel"
    assert walkway.bump_needs(0.0131) == "ramp"


def test_a_refusal_names_field_value_and_limit() -> None:
    with pytest.raises(RuleError) as refused:
        photometry.point_illuminance_lx(100.0, distance_m=-2.0)
    assert refused.value.facts == {"field": "distance_m", "value": -2.0, "limit": 0, "unit": "m"}
    assert refused.value.sentence == "distance must be above 0 m, got -2; measure along the beam"
