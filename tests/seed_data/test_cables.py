"""Cables and outlets: published resistances against the physics of copper, and the continuous limit."""

from __future__ import annotations

import math

import pytest

from seed_data.tables import Row, row, rows
from tailslate.craft.cable import ohm_per_m_awg, ohm_per_m_section, voltage_drop_v, warm_resistance_ratio
from tailslate.craft.power import continuous_limit_a

COPPER_OHM_MM2_M = 1 / 58  # IEC 60028, annealed copper at 20 degC (100 % IACS)
COPPER_PER_K = 0.00393  # IEC 60028, at constant mass

every_cable = pytest.mark.parametrize("cable", rows("cables"), ids=lambda cable: cable["id"])


# NEC (NFPA 70), chapter 9, table 8: uncoated copper, stranded, ohm per 1000 ft at 75 degC.
@pytest.mark.parametrize(
    ("size", "ohm"),
    [
        ("14", 3.14), ("12", 1.98), ("10", 1.24), ("8", 0.778), ("6", 0.491), ("4", 0.308), ("2", 0.194),
        ("1/0", 0.122), ("2/0", 0.0967), ("4/0", 0.0608),
    ],
)  # fmt: skip
def test_awg_resistances_are_those_of_the_code(size: str, ohm: float) -> None:
    cable = next(one for one in rows("cables", system="awg") if one["size"] == size)
    assert cable["ohm_per_1000_ft"]["value"] == ohm
    assert cable["conductor_degc"]["value"] == 75
    assert cable["ohm_per_m"]["value"] == pytest.approx(ohm / 304.8, rel=1e-5)


# IEC 60228, class 5, plain copper: largest ohm per km at 20 degC.
@pytest.mark.parametrize(
    ("size", "ohm"),
    [
        ("1", 19.5), ("1.5", 13.3), ("2.5", 7.98), ("4", 4.95), ("6", 3.30), ("10", 1.91), ("16", 1.21), ("25", 0.780),
        ("35", 0.554), ("50", 0.386), ("70", 0.272), ("95", 0.206),
    ],
)  # fmt: skip
def test_metric_resistances_are_those_of_the_standard(size: str, ohm: float) -> None:
    cable = next(one for one in rows("cables", system="mm2") if one["size"] == size)
    assert cable["ohm_per_km"]["value"] == ohm
    assert cable["conductor_degc"]["value"] == 20
    assert cable["ohm_per_m"]["value"] == pytest.approx(ohm / 1000, rel=1e-5)


@pytest.mark.parametrize("cable", rows("cables", system="awg"), ids=lambda cable: cable["id"])
def test_the_section_of_a_gauge_is_that_of_its_diameter(cable: Row) -> None:
    # ASTM B258: 0.127 mm (0.005 in) at gauge 36, a factor of 92 in diameter over 39 gauges.
    gauge = (
        {"1/0": 0, "2/0": -1, "4/0": -3}.get(cable["size"]) if "/" in cable["size"] else int(cable["size"])
    )
    assert gauge is not None
    diameter_mm = 0.127 * 92 ** ((36 - gauge) / 39)
    assert cable["section_mm2"]["value"] == pytest.approx(math.pi / 4 * diameter_mm**2, rel=0.0006)


@every_cable
def test_a_resistance_is_that_of_its_copper_and_its_lay(cable: Row) -> None:
    ohm_per_m = COPPER_OHM_MM2_M / cable["section_mm2"]["value"]
    ohm_per_m *= 1 + COPPER_PER_K * (cable["conductor_degc"]["value"] - 20)
    over = cable["ohm_per_m"]["value"] / ohm_per_m
    # Stranding adds about 2 %; a class 5 limit adds what thin wires and tolerances may. The solid column,
    # which one page prints as stranded, would fall under 1.01.
    low, high = (1.01, 1.03) if cable["system"] == "awg" else (1.10, 1.17)
    assert low < over < high


@every_cable
def test_the_arithmetic_and_the_table_agree(cable: Row) -> None:
    looked_up = ohm_per_m_awg if cable["system"] == "awg" else ohm_per_m_section
    assert looked_up(cable["size"]) == pytest.approx(cable["ohm_per_m"]["value"], rel=1e-5)


@every_cable
def test_what_a_cable_may_carry_is_left_to_local_code(cable: Row) -> None:
    assert cable["rating_a"]["value"] is None


def test_a_hundred_feet_of_12_awg_at_16_a_lose_over_six_volts() -> None:
    # By hand: 2 x 0.1 kft x 1.98 ohm/kft x 16 A.
    ohm_per_m = row("cables", "awg_12")["ohm_per_m"]["value"]
    assert voltage_drop_v(16.0, length_m=30.48, ohm_per_m=ohm_per_m) == pytest.approx(6.336, rel=1e-4)


def test_fifty_metres_of_2_5_mm2_at_16_a_lose_more_when_warm() -> None:
    # By hand: 2 x 0.05 km x 7.98 ohm/km x 16 A, times 1 + 0.00393 x 50.
    ohm_per_m = row("cables", "mm2_2_5")["ohm_per_m"]["value"] * warm_resistance_ratio(70.0)
    assert voltage_drop_v(16.0, length_m=50.0, ohm_per_m=ohm_per_m) == pytest.approx(15.277, rel=2e-3)


@pytest.mark.parametrize("outlet", rows("outlets"), ids=lambda outlet: outlet["id"])
def test_a_fifth_of_the_breaker_is_kept_back(outlet: Row) -> None:
    # NEC 210.19 and 210.20: a continuous load at 80 % at most.
    expected = continuous_limit_a(
        float(outlet["breaker_a"]["value"]), continuous_ratio=outlet["continuous_ratio"]["value"]
    )
    assert outlet["continuous_a"]["value"] == pytest.approx(expected)
    assert outlet["continuous_a"]["value"] == pytest.approx(0.8 * outlet["breaker_a"]["value"])


def test_line_to_line_connectors_say_that_they_are() -> None:
    # 120 V to neutral in a three-phase system is 120 x sqrt 3 line to line.
    assert 120 * math.sqrt(3) == pytest.approx(208, abs=0.5)
    for outlet in rows("outlets"):
        if outlet["voltage_v"]["value"] == 208:
            assert "line to line" in outlet["note"], outlet["id"]


def test_feeders_are_for_a_licensed_electrician_only() -> None:
    for outlet in rows("outlets"):
        if outlet["breaker_a"]["value"] > 100:
            assert "licensed electrician only" in outlet["caution"], outlet["id"]
