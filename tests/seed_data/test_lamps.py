"""Lamps: every intensity follows from its row, and the rows agree with what others measured and published."""

from __future__ import annotations

import math
from typing import Any

import colour
import numpy as np
import pytest
from scipy.integrate import quad

from seed_data.tables import ENDS, Row, at, row, rows
from tailslate.craft.level import level_through_layers

SUN_W_M2 = 1000.0  # ASTM G173, direct and sky light of a clear midday, from memory
FROM_A_TABLE = "stage_table"

FITTINGS = [(lamp, fitting) for lamp in rows("lamps") for fitting in lamp["fittings"]]
DERIVED = [pair for pair in FITTINGS if pair[1]["intensity_cd"]["source"] == "derived"]

# OliNo, light measurements, pages of 2009 to 2022: flux [lm], beam angle [deg], intensity [cd]. Oval beams
# as the geometric mean of both angles.
MEASURED = [
    (1310, 20, 6558.5),
    (64, 36, 132.2),
    (1807, 60, 1907.3),
    (1778, 64, 1667),
    (2191, 67, 2208.2),
    (1000, 71, 927.8),
    (919, 87, 496.8),
    (95, 97, 35.9),
    (552, math.sqrt(119 * 113), 171.7),
    (5642, math.sqrt(130 * 105), 1655.4),
]


def name_of(value: Any) -> str:
    return str(value.get("id") or value.get("fitting"))


every_fitting = pytest.mark.parametrize(("lamp", "fitting"), FITTINGS, ids=name_of)
every_derived = pytest.mark.parametrize(("lamp", "fitting"), DERIVED, ids=name_of)


def bell_beam_sr(beam_deg: float) -> float:
    """The integral over the half space of an intensity that is halved at the beam's edge."""
    edge = math.tan(math.radians(beam_deg / 2))
    return quad(
        lambda a: 2.0 ** -min((math.tan(a) / edge) ** 2, 1000.0) * 2 * math.pi * math.sin(a), 0, math.pi / 2
    )[0]


def even_beam_sr(beam_deg: float) -> float:
    return 2 * math.pi * (1 - math.cos(math.radians(beam_deg / 2)))


SOLID_ANGLE_SR = {
    "bell_beam": bell_beam_sr,
    "even_beam": even_beam_sr,
    "tube_beam": lambda _: math.pi**2,
}


@pytest.mark.parametrize(("flux_lm", "beam_deg", "intensity_cd"), MEASURED)
def test_a_bell_beam_turns_measured_flux_into_measured_intensity(
    flux_lm: float, beam_deg: float, intensity_cd: float
) -> None:
    off_stops = math.log2(flux_lm / bell_beam_sr(beam_deg) / intensity_cd)
    assert abs(off_stops) < 2 / 3


def test_measured_lamps_are_off_to_both_sides_of_the_bell_beam() -> None:
    off_stops = [math.log2(flux / bell_beam_sr(beam) / intensity) for flux, beam, intensity in MEASURED]
    assert abs(float(np.median(off_stops))) < 0.25


def test_an_even_beam_turns_measured_flux_into_measured_intensity() -> None:
    # OliNo, light measurements, 2009: a bulb of 159 lm, 318 deg, 13 cd.
    assert 159 / even_beam_sr(318) == pytest.approx(13, rel=0.02)


@every_derived
def test_the_solid_angle_follows_from_the_beam(lamp: Row, fitting: Row) -> None:
    angle = fitting["solid_angle_sr"]
    for end in ENDS:
        expected = SOLID_ANGLE_SR[angle["source"]](fitting["beam_deg"][end])
        assert at(angle, end) == pytest.approx(expected, rel=0.006)


@every_derived
def test_the_intensity_follows_from_watts_efficacy_fitting_and_beam(lamp: Row, fitting: Row) -> None:
    factors = [lamp["input_w"], lamp["efficacy_lm_w"], fitting["through_ratio"]]
    angle = fitting["solid_angle_sr"]
    opposite = {"low": "high", "high": "low"}
    typical = math.prod(at(factor, "typical") for factor in factors) / at(angle, "typical")
    assert fitting["intensity_cd"]["typical"] == pytest.approx(typical, rel=0.006)
    for end, sign in (("low", -1), ("high", 1)):
        spreads = [math.log(at(factor, end) / at(factor, "typical")) for factor in factors]
        spreads.append(math.log(at(angle, "typical") / at(angle, opposite[end])))
        expected = typical * math.exp(sign * math.hypot(*spreads))
        assert fitting["intensity_cd"][end] == pytest.approx(expected, rel=0.006)


@pytest.mark.parametrize(
    ("lamp", "fitting"),
    [pair for pair in FITTINGS if pair[1]["sheet_distance_m"]["value"] is not None],
    ids=name_of,
)
def test_the_sheet_distance_is_that_of_midday_sun_at_the_careful_end(lamp: Row, fitting: Row) -> None:
    distance = fitting["sheet_distance_m"]
    heat_w_sr = at(lamp["input_w"], "high") * lamp["radiant_ratio"]["high"] * fitting["through_ratio"]["high"]
    heat_w_sr /= at(fitting["solid_angle_sr"], "low")
    assert heat_w_sr / distance["value"] ** 2 <= SUN_W_M2 * 1.001
    assert heat_w_sr / (distance["value"] - 0.1) ** 2 > SUN_W_M2


def test_every_hot_beamed_lamp_has_a_sheet_distance() -> None:
    for lamp in rows("lamps"):
        if lamp["kind"] in {"tungsten_open_face", "tungsten_fresnel", "daylight_arc_fresnel"}:
            assert lamp["hot"] == "yes"
            assert all(fitting["sheet_distance_m"]["value"] > 0 for fitting in lamp["fittings"])


def test_every_lamp_says_whether_it_is_hot_and_how_it_dims() -> None:
    for lamp in rows("lamps"):
        assert lamp["hot"] in {"yes", "warm", "no"}, lamp["id"]
        assert lamp["dims"], lamp["id"]
        burns = "halogen" in lamp["name"] or "tungsten" in lamp["name"] or lamp["kind"] == "open_flame"
        assert lamp["hot"] == "yes" or not burns, lamp["id"]


def black_body_efficacy_lm_w(temperature_k: float) -> float:
    """Lumens per radiated watt of a black body: Planck's law weighted by the CIE 1924 V(lambda)."""
    seen = colour.SDS_LEFS["CIE 1924 Photopic Standard Observer"]
    metres = seen.wavelengths * 1e-9
    exitance = 3.741771852e-16 / metres**5 / np.expm1(0.01438777 / (metres * temperature_k))
    light = 683.002 * float(np.trapezoid(exitance * seen.values, seen.wavelengths)) * 1e-9
    return light / (5.670374419e-8 * temperature_k**4)


@pytest.mark.parametrize(("temperature_k", "efficacy_lm_w"), [(4000, 54.7), (7000, 95)])
def test_the_black_body_is_the_one_of_the_handbooks(temperature_k: float, efficacy_lm_w: float) -> None:
    # Overall luminous efficacy of a black body, handbook values from memory.
    assert black_body_efficacy_lm_w(temperature_k) == pytest.approx(efficacy_lm_w, rel=0.01)


@pytest.mark.parametrize(
    "lamp",
    [lamp for lamp in rows("lamps") if "colour_exponent_ratio" in lamp and "efficacy_lm_w" in lamp],
    ids=name_of,
)
def test_a_filament_gives_about_the_lumens_of_a_black_body_of_its_colour(lamp: Row) -> None:
    share = lamp["efficacy_lm_w"]["typical"] / black_body_efficacy_lm_w(lamp["colour_k"]["typical"])
    # Tungsten radiates less infrared than a black body, and loses heat to gas and leads, small lamps more.
    assert 0.7 < share < 1.2


# Western Michigan University, THEA 332, photometric data of selected instruments: 3 inch 150 W and 8 inch 1000 W
# Fresnel spotlights, peak candela.
@pytest.mark.parametrize(
    ("lamp_id", "name", "published_cd"),
    [
        ("fresnel_150", "spot", 6500),
        ("fresnel_150", "flood", 1600),
        ("fresnel_1000", "spot", 100000),
        ("fresnel_1000", "flood", 12000),
    ],
)
def test_published_fresnel_lamps_lie_within_their_class(lamp_id: str, name: str, published_cd: float) -> None:
    fitting = next(one for one in row("lamps", lamp_id)["fittings"] if one["fitting"] == name)
    assert fitting["intensity_cd"]["low"] < published_cd < fitting["intensity_cd"]["high"]


def test_sealed_beam_lamps_are_as_published() -> None:
    # The same table: 1000 W wide, medium, narrow and very narrow, peak candela.
    published = {"wide": 40000, "medium": 125000, "narrow": 330000, "very_narrow": 400000}
    for fitting in row("lamps", "sealed_beam_1000")["fittings"]:
        assert fitting["intensity_cd"]["source"] == FROM_A_TABLE
        assert fitting["intensity_cd"]["typical"] == published[fitting["fitting"]]


# Lumens by power on United States labels, as public pages repeat them; 500 W work light from another.
@pytest.mark.parametrize(
    ("lamp_id", "low_lm", "high_lm"),
    [
        ("bulb_filament_25", 200, 250),
        ("bulb_filament_40", 450, 450),
        ("bulb_filament_60", 800, 800),
        ("bulb_filament_100", 1600, 1600),
        ("work_light_halogen_500", 8000, 10500),
    ],
)
def test_filament_bulbs_give_the_lumens_of_their_labels(lamp_id: str, low_lm: float, high_lm: float) -> None:
    lamp = row("lamps", lamp_id)
    flux_lm = lamp["input_w"]["value"] * lamp["efficacy_lm_w"]["typical"]
    assert low_lm * 0.98 <= flux_lm <= high_lm * 1.02


@pytest.mark.parametrize(
    ("sold_as_w", "flux_lm"),
    [(25, 249), (40, 470), (60, 806), (75, 1055), (100, 1521)],
)
def test_led_bulbs_give_the_lumens_of_the_bulb_they_are_sold_as(sold_as_w: int, flux_lm: float) -> None:
    # Commission Regulation (EC) No 244/2009, Annex II, from memory.
    lamp = row("lamps", f"bulb_led_{sold_as_w}")
    assert lamp["input_w"]["typical"] * lamp["efficacy_lm_w"]["typical"] == pytest.approx(flux_lm, rel=0.01)
    assert lamp["input_w"]["high"] < sold_as_w / 3, "the watts it takes are not those on the box"


def test_a_candle_is_about_one_candela() -> None:
    # 13 lm in all directions, as public pages on the candle have it; and by the unit's own history.
    candle = row("lamps", "candle")["fittings"][0]["intensity_cd"]
    assert candle["low"] < 13 / (4 * math.pi) < candle["high"]
    assert candle["typical"] == 1


def test_dimmed_tungsten_warms_as_the_field_guide_says() -> None:
    # Arecchi, Messadi, Koshel, Field Guide to Illumination, SPIE 2007: 5 % more current takes 1040 lm at 2900 K
    # to 1428 lm at 3015 K.
    for lamp in rows("lamps"):
        if "colour_exponent_ratio" in lamp:
            exponent = lamp["colour_exponent_ratio"]["value"]
            assert exponent == pytest.approx(0.8 / 6.5, abs=0.0005)
            assert 2900 * (1428 / 1040) ** exponent == pytest.approx(3015, abs=2)


@every_fitting
def test_lux_at_one_metre_is_candela(lamp: Row, fitting: Row) -> None:
    intensity = {end: float(fitting["intensity_cd"][end]) for end in ENDS}
    source = {"intensity_cd": intensity, "beam_deg": float(fitting["beam_deg"]["typical"])}
    made = level_through_layers(source, layers=[], subject={"distance_m": 1.0})  # type: ignore[arg-type]
    assert made["level_lx"] == intensity


@pytest.mark.parametrize("watts", [60, 150, 300, 600, 1200])
def test_a_point_source_is_strongest_in_a_reflector_and_weakest_in_a_lantern(watts: int) -> None:
    typical = {
        one["fitting"]: one["intensity_cd"]["typical"]
        for one in row("lamps", f"led_point_{watts}")["fittings"]
    }
    assert list(typical) == ["bare", "reflector", "dome", "lantern"]
    assert typical["reflector"] > typical["bare"] > typical["dome"] > typical["lantern"]
