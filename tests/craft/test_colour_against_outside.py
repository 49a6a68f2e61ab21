"""Colour temperature, tint, mixtures and Munsell steps against colour-science (Ohno 2013, CIE 15, ASTM D1535)."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it says that it cannot draw; no drawing is asked of it
    import colour as outside

from tailslate.craft.bounce import munsell_reflectance_ratio
from tailslate.craft.colour import (
    chromaticity,
    colour_temperature,
    daylight_chromaticity,
    mccamy_k,
    mixture,
)
from tailslate.craft.correction import nearest_correction
from tailslate.craft.errors import RuleError
from tailslate.craft.planckian_locus import FIRST_MIRED, LAST_MIRED, STEP_MIRED, entry, locus_uv

OBSERVER = outside.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
RADIATION_M_K = 0.01438776877  # CODATA 2018, second radiation constant


def planckian_uv(mired: float) -> tuple[float, float]:
    """The locus from Planck's law and the observer at 1 nm."""
    wave_m = OBSERVER.wavelengths * 1e-9
    power = wave_m**-5.0 / np.expm1(RADIATION_M_K * mired / (wave_m * 1e6))
    x, y, z = (power[:, None] * OBSERVER.values).sum(axis=0)
    return 4 * x / (x + 15 * y + 3 * z), 6 * y / (x + 15 * y + 3 * z)


def test_the_table_of_the_locus_is_what_plancks_law_and_the_observer_give() -> None:
    for index, mired in enumerate(range(FIRST_MIRED, LAST_MIRED + 1, STEP_MIRED)):
        assert entry(index) == pytest.approx(planckian_uv(mired), abs=1e-9)


def test_between_its_entries_the_locus_stays_within_a_ten_millionth() -> None:
    for mired in np.arange(FIRST_MIRED + 2.5, LAST_MIRED, 7.3):
        assert locus_uv(float(mired))[:2] == pytest.approx(planckian_uv(float(mired)), abs=1e-7)


def points() -> list[tuple[float, float]]:
    """240 lights from 1,700 to 12,000 K, up to Duv 0.02 to either side, as x and y; each can exist (z above 0)."""
    draw = np.random.default_rng(5)
    found: list[tuple[float, float]] = []
    while len(found) < 240:
        temperature_k, duv = 1e6 / draw.uniform(1e6 / 12000, 1e6 / 1700), draw.uniform(-0.02, 0.02)
        uv = outside.temperature.CCT_to_uv_Ohno2013(np.array([temperature_k, duv]))
        x, y = outside.UCS_uv_to_xy(uv)
        if x + y <= 1:
            found.append((float(x), float(y)))
    return found


POINTS = points()


@pytest.mark.parametrize(("x", "y"), POINTS)
def test_a_meter_reading_has_the_colour_temperature_that_ohno_gives(x: float, y: float) -> None:
    found = colour_temperature(x, y=y)
    ohno_k, ohno_duv = outside.temperature.uv_to_CCT_Ohno2013(outside.xy_to_UCS_uv([x, y]))
    # Ohno's own error bound is 1 K and 0.00003 in Duv up to 20,000 K, with his table's step.
    assert abs(1e6 / found["temperature_k"] - 1e6 / ohno_k) < 0.05
    assert found["duv"] == pytest.approx(ohno_duv, abs=3e-5)
    back = chromaticity(found["temperature_k"], duv=found["duv"])
    assert (back["x"], back["y"]) == pytest.approx((x, y), abs=1e-9)


@pytest.mark.parametrize("seed", range(60))
def test_a_mixture_is_the_sum_of_tristimulus_values(seed: int) -> None:
    draw = np.random.default_rng(seed)
    lights, whole = [], np.zeros(3)
    for _ in range(int(draw.integers(2, 5))):
        x, y = POINTS[int(draw.integers(len(POINTS)))]
        level_lx = float(draw.uniform(10, 2000))
        lights.append({"x": x, "y": y, "illuminance_lx": level_lx})
        whole += outside.xyY_to_XYZ([x, y, level_lx])
    found = mixture(lights)
    x, y, level_lx = outside.XYZ_to_xyY(whole)
    assert (found["x"], found["y"], found["illuminance_lx"]) == pytest.approx((x, y, level_lx), rel=1e-9)


@pytest.mark.parametrize("temperature_k", [4000.0, 5000.0, 5600.0, 6500.0, 7000.0, 7001.0, 9300.0, 20000.0])
def test_daylight_lies_where_cie_puts_it(temperature_k: float) -> None:
    x, y = outside.temperature.CCT_to_xy_CIE_D(temperature_k)
    found = daylight_chromaticity(temperature_k)
    assert (found["x"], found["y"]) == pytest.approx((x, y), abs=2e-6)


def test_daylight_is_not_called_green_though_it_lies_above_the_planckian_locus() -> None:
    white = daylight_chromaticity(6504.0)
    assert colour_temperature(white["x"], y=white["y"])["duv"] == pytest.approx(0.0032, abs=2e-4)


@pytest.mark.parametrize(
    ("x", "y"), [(0.44758, 0.40745), (0.31272, 0.32903), (0.505, 0.426), (0.3721, 0.3751)]
)
def test_the_quick_estimate_is_mccamys(x: float, y: float) -> None:
    assert mccamy_k(x, y=y) == pytest.approx(
        float(outside.temperature.xy_to_CCT_McCamy1992([x, y])), rel=1e-9
    )


def test_the_quick_estimate_is_off_for_warm_bulbs_and_the_real_one_is_not() -> None:
    white = chromaticity(2000.0)
    assert mccamy_k(white["x"], y=white["y"]) - 2000.0 == pytest.approx(-18.7, abs=0.3)
    assert colour_temperature(white["x"], y=white["y"])["temperature_k"] == pytest.approx(2000.0, abs=0.01)


@pytest.mark.parametrize("value", [0.0, 0.5, 1.0, 3.0, 5.0, 7.0, 9.0, 9.5, 10.0])
def test_a_munsell_step_reflects_what_astm_d1535_says(value: float) -> None:
    assert 100 * munsell_reflectance_ratio(value) == pytest.approx(
        float(outside.colorimetry.luminance_ASTMD1535(value)), abs=1e-9
    )


@pytest.mark.parametrize(("x", "y"), [(0.17, 0.01), (0.1, 0.8), (0.7, 0.3)])
def test_a_colour_far_from_white_has_no_temperature(x: float, y: float) -> None:
    with pytest.raises(RuleError) as refused:
        colour_temperature(x, y=y)
    assert refused.value.code in ("off_locus", "outside_range")


def test_a_warm_light_too_green_to_exist_is_refused() -> None:
    with pytest.raises(RuleError) as refused:
        chromaticity(1800.0, duv=0.02)
    assert refused.value.code == "not_a_light"


def test_a_mix_of_two_white_lights_turns_slightly_magenta() -> None:
    warm, cold = chromaticity(3200.0), chromaticity(5600.0)
    both = mixture(
        [
            {"x": white["x"], "y": white["y"], "illuminance_lx": level_lx}
            for white, level_lx in ((warm, 300.0), (cold, 500.0))
        ]
    )
    assert colour_temperature(both["x"], y=both["y"])["duv"] < 0


@pytest.mark.parametrize("from_k", [1900.0, 2700.0, 3200.0, 4300.0, 5600.0, 9000.0])
@pytest.mark.parametrize("to_k", [2000.0, 3200.0, 5600.0, 6500.0])
def test_the_correction_chosen_leaves_the_least(from_k: float, to_k: float) -> None:
    wanted = 1e6 / to_k - 1e6 / from_k
    full = 1e6 / 3200 - 1e6 / 5500
    least = min(abs(wanted - sign * part * full) for sign in (-1, 1) for part in (0, 0.125, 0.25, 0.5, 1))
    found = nearest_correction(from_k, to_k=to_k)
    assert isinstance(found["residual_mired"], float)
    assert abs(found["residual_mired"]) == pytest.approx(least, abs=1e-9)
    assert math.copysign(1, wanted) == (1 if "warming" in str(found["direction"]) else -1) or least == abs(
        wanted
    )
