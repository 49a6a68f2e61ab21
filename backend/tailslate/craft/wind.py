"""Wind on a frame on one stand: pressure, force, the speed at which it tips. Arithmetic only.

No frame stands outdoors without lines, a wind limit and a named person who strikes it. Large
frames on lines have no number here: a competent person decides. A wet silk is not porous.
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, within
from .rounding import compare, plain_text
from .stand import GRAVITY_M_S2

AIR_KG_M3 = 1.25  # kg/m3 [wind-1]
SIGNBOARD_FORCE_RATIO = 1.8  # force coefficient of a flat board [wind-1]
GUST_RATIO = 1.5  # gust over ten-minute mean [wind-3]
LARGEST_FRAME_M2 = 3.4  # m2, about 6 x 6 ft; larger needs lines and a person (common practice, no source)
# m/s, lowest ten-minute mean at 10 m height of Beaufort 1, 2, 3 ... [wind-3]
_BEAUFORT_M_S = (0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)


def wind_pressure_pa(speed_m_s: float, *, air_kg_m3: float = AIR_KG_M3) -> float:
    """Return the pressure of moving air: q = rho * v**2 / 2.

    Args:
        speed_m_s: wind speed, gusts included [m/s], 0 or more.
        air_kg_m3: density of the air [kg/m3], above 0.
    Returns: pressure [Pa].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [wind-1], equation 4.10

    >>> wind_pressure_pa(8.0)
    40.0
    """
    at_least_zero(speed_m_s, field="speed_m_s", unit="m/s", next_step="read the anemometer at frame height")
    above_zero(air_kg_m3, field="air_kg_m3", unit="kg/m3", next_step="1.25 is usual")
    return air_kg_m3 * speed_m_s * speed_m_s / 2.0


def wind_pressure_psf(speed_mph: float) -> float:
    """Return the pressure of moving air in the units of US handbooks: 0.00256 * v**2.

    Args:
        speed_mph: wind speed, gusts included [mph], 0 or more.
    Returns: pressure [psf].
    Raises: RuleError "not_a_number", "negative".
    Source: [wind-2]

    >>> round(wind_pressure_psf(25.0), 6)
    1.6
    """
    at_least_zero(speed_mph, field="speed_mph", unit="mph", next_step="read the anemometer at frame height")
    return 0.00256 * speed_mph * speed_mph


def wind_force_n(
    speed_m_s: float,
    *,
    area_m2: float,
    force_ratio: float = SIGNBOARD_FORCE_RATIO,
    air_kg_m3: float = AIR_KG_M3,
) -> float:
    """Return the force of the wind on a flat frame: F = q * Cf * A. It acts off centre by a quarter width.

    Args:
        speed_m_s: wind speed, gusts included [m/s], 0 or more.
        area_m2: area of the frame [m2], above 0.
        force_ratio: force coefficient Cf [ratio], above 0; 1.8 for a board, the larger of the published ones.
        air_kg_m3: density of the air [kg/m3], above 0.
    Returns: force [N].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [wind-1], 7.4.3

    >>> wind_force_n(8.0, area_m2=1.5)
    108.0
    """
    above_zero(area_m2, field="area_m2", unit="m2", next_step="width times height of the frame")
    above_zero(force_ratio, field="force_ratio", unit="", next_step="1.8 for a flat board")
    return wind_pressure_pa(speed_m_s, air_kg_m3=air_kg_m3) * force_ratio * area_m2


def tipping_wind_m_s(
    total_kg: float,
    *,
    tipping_edge_m: float,
    area_m2: float,
    centre_height_m: float,
    safety_ratio: float = 1.5,
    force_ratio: float = SIGNBOARD_FORCE_RATIO,
    air_kg_m3: float = AIR_KG_M3,
    gravity_m_s2: float = GRAVITY_M_S2,
) -> float:
    """Return the gust at which a frame on one stand tips: F * h * SF = m * g * r.

    Args:
        total_kg: stand, frame and bags together [kg], above 0.
        tipping_edge_m: column to tipping edge, not to the foot [m], above 0.
        area_m2: area of the frame [m2], above 0 to 3.4; larger ones need lines and a competent person.
        centre_height_m: floor to the frame's middle [m], above 0.
        safety_ratio: safety factor [ratio], 1 to 10.
        force_ratio: force coefficient Cf [ratio], above 0.
        air_kg_m3: density of the air [kg/m3], above 0.
        gravity_m_s2: acceleration of gravity [m/s2], above 0.
    Returns: wind speed, gusts included [m/s]; never a leave to work up to it.
    Raises: RuleError "not_a_number", "not_positive", "outside_range", "needs_competent_person".
    Source: [wind-1], [rigging-1]

    >>> round(tipping_wind_m_s(24.0, tipping_edge_m=0.275, area_m2=1.48644864, centre_height_m=2.4), 2)
    3.28
    """
    above_zero(total_kg, field="total_kg", unit="kg", next_step="weigh stand, frame and bags")
    above_zero(
        tipping_edge_m, field="tipping_edge_m", unit="m", next_step="half the leg radius on three legs"
    )
    above_zero(
        centre_height_m, field="centre_height_m", unit="m", next_step="measure floor to frame's middle"
    )
    next_step = "1.5 is usual; under 1 it tips"
    within(safety_ratio, low=1, high=10, field="safety_ratio", unit="", next_step=next_step)
    if compare(area_m2, LARGEST_FRAME_M2) > 0:
        sentence = (
            f"area_m2 is {plain_text(area_m2)}, over {plain_text(LARGEST_FRAME_M2)} m2 there is no number here; "
            "a competent person plans its lines"
        )
        raise RuleError("needs_competent_person", sentence, value=area_m2, limit=LARGEST_FRAME_M2)
    per_speed = wind_force_n(1.0, area_m2=area_m2, force_ratio=force_ratio, air_kg_m3=air_kg_m3)
    above_zero(gravity_m_s2, field="gravity_m_s2", unit="m/s2", next_step="9.80665 on earth")
    holding = total_kg * gravity_m_s2 * tipping_edge_m
    return math.sqrt(holding / (per_speed * centre_height_m * safety_ratio))


def mean_wind_m_s(gust_m_s: float, *, gust_ratio: float = GUST_RATIO) -> float:
    """Return the forecast mean wind whose gusts reach a speed: gust / 1.5.

    Args:
        gust_m_s: the gust that must not be reached [m/s], 0 or more.
        gust_ratio: gust over ten-minute mean [ratio], 1 or more.
    Returns: mean wind [m/s], as a forecast gives it.
    Raises: RuleError "not_a_number", "negative", "outside_range".
    Source: [wind-3]

    >>> mean_wind_m_s(6.0)
    4.0
    """
    at_least_zero(gust_m_s, field="gust_m_s", unit="m/s", next_step="work out the tipping wind first")
    within(gust_ratio, low=1, high=5, field="gust_ratio", unit="", next_step="1.5 is usual")
    return gust_m_s / gust_ratio


def beaufort(speed_m_s: float) -> int:
    """Return the Beaufort number of a ten-minute mean wind.

    Args:
        speed_m_s: mean wind [m/s], 0 or more.
    Returns: Beaufort number, 0 to 12 (no unit).
    Raises: RuleError "not_a_number", "negative".
    Source: [wind-3]

    >>> beaufort(5.0), beaufort(8.0)
    (3, 5)
    """
    at_least_zero(speed_m_s, field="speed_m_s", unit="m/s", next_step="read the anemometer again")
    return len([low for low in _BEAUFORT_M_S if compare(speed_m_s, low) >= 0])


def check_wind_limit(limit_m_s: float | None, *, gust_m_s: float | None) -> None:
    """Refuse a frame outdoors without a wind limit, without a reading, or over its limit.

    Args:
        limit_m_s: the wind at which it is struck, gusts included [m/s]; None when nobody has set one.
        gust_m_s: the strongest gust read or forecast [m/s]; None when nobody has looked.
    Returns: nothing; silence is no promise.
    Raises: RuleError "not_a_number", "negative", "not_positive", "limit_unknown", "wind_unknown", "over_limit".
    Source: [rigging-2]

    >>> check_wind_limit(5.0, gust_m_s=3.0)
    """
    if limit_m_s is None:
        raise RuleError(
            "limit_unknown", "limit_m_s is not set; no frame stands outdoors without a wind limit"
        )
    above_zero(limit_m_s, field="limit_m_s", unit="m/s", next_step="set the wind at which it is struck")
    if gust_m_s is None:
        raise RuleError(
            "wind_unknown", "gust_m_s is not known; read the wind at frame height", limit=limit_m_s
        )
    at_least_zero(gust_m_s, field="gust_m_s", unit="m/s", next_step="read the anemometer again")
    if compare(gust_m_s, limit_m_s) >= 0:
        sentence = (
            f"gusts of {plain_text(gust_m_s)} m/s reach the limit of {plain_text(limit_m_s)} m/s; strike it"
        )
        raise RuleError("over_limit", sentence, value=gust_m_s, limit=limit_m_s)
