"""Balance, wind and slings against a linear solve of the forces (numpy) and a scan of directions. No formula is shared."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tailslate.craft.errors import RuleError
from tailslate.craft.overhead import minimum_breaking_load_n, safety_peak_n, sling_tension_n
from tailslate.craft.stand import (
    bag_count,
    bag_kg,
    check_rating,
    counterweight_kg,
    needs_no_bag,
    tipping_edge_m,
)
from tailslate.craft.wind import (
    beaufort,
    check_wind_limit,
    mean_wind_m_s,
    tipping_wind_m_s,
    wind_force_n,
    wind_pressure_pa,
    wind_pressure_psf,
)

GRAVITY = 9.80665


@pytest.mark.parametrize("seed", range(25))
def test_a_counterweight_balances_force_and_moment(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    load, boom, load_arm, weight_arm, centre = (
        draw(1, 15),
        draw(0, 6),
        draw(0.5, 3),
        draw(0.3, 1.5),
        draw(-0.2, 0.8),
    )
    # Unknown: counterweight and the pivot's push. Sum of forces and of moments about the load's end.
    solved = np.linalg.solve(
        np.array([[1.0, -1.0], [load_arm + weight_arm, -load_arm]]),
        np.array([-(load + boom), -boom * (load_arm - centre)]),
    )
    found = counterweight_kg(
        load, load_arm_m=load_arm, weight_arm_m=weight_arm, boom_kg=boom, boom_centre_m=centre
    )
    assert found == pytest.approx(solved[0], rel=1e-9)
    assert found + load + boom == pytest.approx(solved[1], rel=1e-9)


def feet(radius: float, legs: int) -> Any:
    turns = 2 * math.pi * np.arange(legs) / legs
    return np.stack([radius * np.cos(turns), radius * np.sin(turns)], axis=1)


def stays_up(masses: list[tuple[float, Any]], radius: float, legs: int) -> bool:
    """Whether the common centre of weight lies inside the polygon of the feet."""
    whole = sum(mass for mass, _ in masses)
    centre = sum(mass * np.asarray(place) for mass, place in masses) / whole
    corners = feet(radius, legs)
    for one, two in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        edge, out = two - one, centre - one
        if edge[0] * out[1] - edge[1] * out[0] < -1e-9:
            return False
    return True


@pytest.mark.parametrize("seed", range(25))
def test_the_bag_for_the_worst_direction_holds_in_every_direction_and_no_smaller_one_does(seed: int) -> None:
    draw = np.random.default_rng(seed)
    legs = int(draw.integers(3, 6))
    load, offset, stand, radius = (
        draw.uniform(2, 10),
        draw.uniform(0.5, 1.6),
        draw.uniform(3, 12),
        draw.uniform(0.4, 0.8),
    )
    bag = bag_kg(load, offset_m=offset, stand_kg=stand, leg_radius_m=radius, leg_count=legs, safety_ratio=1.0)
    scan = [2 * math.pi * step / 1440 for step in range(1440)]

    def holds(weight: float) -> bool:
        return all(
            stays_up(
                [
                    (stand + weight, [0.0, 0.0]),
                    (load, [offset * math.cos(turn), offset * math.sin(turn)]),
                ],
                radius,
                legs,
            )
            for turn in scan
        )

    assert holds(bag * 1.0001 + 1e-6)
    assert bag == 0 or not holds(bag * 0.99)
    assert needs_no_bag(
        load, offset_m=offset, stand_kg=stand, leg_radius_m=radius, leg_count=legs, safety_ratio=1.0
    ) == holds(0.0)


@pytest.mark.parametrize("from_leg_deg", [0.0, 10.0, 30.0, 45.0, 60.0, 90.0, 120.0, -20.0])
@pytest.mark.parametrize("slew_deg", [0.0, 15.0])
def test_the_bag_for_a_known_direction_holds_over_the_whole_slew(
    from_leg_deg: float, slew_deg: float
) -> None:
    facts = {"offset_m": 1.1, "stand_kg": 6.0, "leg_radius_m": 0.55}
    bag = bag_kg(7.0, safety_ratio=1.0, from_leg_deg=from_leg_deg, slew_deg=slew_deg, **facts)
    turns = np.radians(np.linspace(from_leg_deg - slew_deg, from_leg_deg + slew_deg, 61))

    def holds(weight: float) -> bool:
        return all(
            stays_up(
                [(6.0 + weight, [0.0, 0.0]), (7.0, [1.1 * math.cos(turn), 1.1 * math.sin(turn)])], 0.55, 3
            )
            for turn in turns
        )

    assert holds(bag * 1.0001 + 1e-6)
    assert bag == 0 or not holds(bag * 0.99)
    assert bag <= bag_kg(7.0, safety_ratio=1.0, **facts) + 1e-9


def test_a_leg_under_the_load_is_not_trusted_once_the_arm_may_swing() -> None:
    facts: Any = {"offset_m": 0.9, "stand_kg": 8.0, "leg_radius_m": 0.55}
    assert bag_kg(6.0, from_leg_deg=0.0, slew_deg=0.0, **facts) == 0
    assert bag_kg(6.0, from_leg_deg=0.0, **facts) > 0


@pytest.mark.parametrize("angle_deg", [20.0, 40.0, 60.0, 89.0])
def test_two_sling_legs_hold_the_weight_between_them(angle_deg: float) -> None:
    angle = math.radians(angle_deg)
    pulls = np.linalg.solve(
        np.array([[math.cos(angle), -math.cos(angle)], [math.sin(angle), math.sin(angle)]]),
        np.array([0.0, 60 * GRAVITY]),
    )
    assert sling_tension_n(60.0, sling_from_horizontal_deg=angle_deg) == pytest.approx(pulls[0], rel=1e-9)


def test_four_legs_are_not_trusted_more_than_two() -> None:
    two = sling_tension_n(60.0, sling_from_horizontal_deg=50.0, leg_count=2)
    assert sling_tension_n(60.0, sling_from_horizontal_deg=50.0, leg_count=4) == two


def test_a_slack_safety_sees_many_times_the_weight() -> None:
    # Stepping the fall: mass 10 kg, 0.1 m of slack, then a spring of 200 kN/m.
    position, speed, peak, step = 0.0, 0.0, 0.0, 1e-6
    while speed >= 0:
        pull = 200_000.0 * max(0.0, position - 0.1)
        peak = max(peak, pull)
        speed += (GRAVITY - pull / 10.0) * step
        position += speed * step
    found = safety_peak_n(10.0, drop_m=0.1, stiffness_n_m=200_000.0)
    assert found == pytest.approx(peak, rel=2e-3)
    assert found > 20 * 10 * GRAVITY


def test_published_wind_pressures() -> None:
    # Beaufort 3, 4, 5 and 6 begin at 3.4, 5.5, 8.0 and 10.8 m/s (WMO, from memory).
    pressures = [wind_pressure_pa(speed) for speed in (3.4, 5.5, 8.0, 10.8)]
    assert pressures == pytest.approx([7.2, 18.9, 40.0, 72.9], abs=0.05)
    # ASCE 7 in its two units (from memory): 0.613 v**2 Pa and 0.00256 v**2 psf.
    assert wind_pressure_psf(25.0) * 47.880259 == pytest.approx(0.613 * 11.176**2, rel=2e-3)


@pytest.mark.parametrize("speed", [0.0, 0.29, 0.3, 3.39, 3.4, 10.8, 32.69, 32.7, 60.0])
def test_beaufort_steps_where_the_published_table_steps(speed: float) -> None:
    bounds = [0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7]
    assert beaufort(speed) == int(np.searchsorted(bounds, speed, side="right"))


@pytest.mark.parametrize("seed", range(10))
def test_the_tipping_wind_is_where_the_moments_meet(seed: int) -> None:
    draw = np.random.default_rng(seed).uniform
    mass, edge, area, height = draw(10, 80), draw(0.2, 0.5), draw(0.3, 3.3), draw(1, 3)
    speed = tipping_wind_m_s(
        mass, tipping_edge_m=edge, area_m2=area, centre_height_m=height, safety_ratio=1.5
    )
    push = wind_force_n(speed, area_m2=area) * height * 1.5
    assert push == pytest.approx(mass * GRAVITY * edge, rel=1e-9)
    assert mean_wind_m_s(speed) == pytest.approx(speed / 1.5)


def refused(call: Any) -> str:
    with pytest.raises(RuleError) as error:
        call()
    return error.value.code


def test_what_cannot_be_known_to_hold_is_refused() -> None:
    assert refused(lambda: check_rating(5.0, rating=None, unit="kg", what="the arm")) == "rating_unknown"
    assert refused(lambda: check_rating(12.0, rating=10.0, unit="kg", what="the arm")) == "over_rating"
    assert refused(lambda: tipping_edge_m(0.5, leg_count=2)) == "outside_range"
    facts: Any = {"offset_m": 1.0, "stand_kg": 5.0, "leg_radius_m": 0.5}
    assert refused(lambda: bag_kg(5.0, safety_ratio=0.9, **facts)) == "outside_range"
    big: Any = {"tipping_edge_m": 0.3, "centre_height_m": 3.0}
    assert refused(lambda: tipping_wind_m_s(50.0, area_m2=13.4, **big)) == "needs_competent_person"
    assert refused(lambda: check_wind_limit(None, gust_m_s=2.0)) == "limit_unknown"
    assert refused(lambda: check_wind_limit(5.0, gust_m_s=None)) == "wind_unknown"
    assert refused(lambda: check_wind_limit(5.0, gust_m_s=5.0)) == "over_limit"
    assert refused(lambda: minimum_breaking_load_n(5.0, design_ratio=0.5)) == "outside_range"


def test_a_load_at_its_rating_is_held_and_a_hair_over_is_not() -> None:
    check_rating(0.1 + 0.2, rating=0.3, unit="kg", what="the clip")
    assert refused(lambda: check_rating(0.30001, rating=0.3, unit="kg", what="the clip")) == "over_rating"


def test_every_stand_gets_a_bag() -> None:
    assert bag_count(0.0, each_kg=7.0) == 1
    assert bag_count(14.0, each_kg=7.0) == 2
    assert bag_count(14.0 + 1e-12, each_kg=7.0) == 2
    assert bag_count(14.01, each_kg=7.0) == 3
