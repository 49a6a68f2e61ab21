"""Colour of light: mired shifts, CCT and tint of a reading, and what a mix of lamps looks like.

Differences are judged in mired, never in kelvin. CCT is the nearest Planckian point in CIE 1960
uv; Duv above 0 is green, under 0 magenta. Near daylight the daylight locus itself lies at Duv
+0.003, so tint is judged against that there. Spiky lamps do not follow a filter's mired.
"""

import math

from .errors import RuleError
from .limits import above_zero, finite, within
from .planckian_locus import FIRST_MIRED, LAST_MIRED, locus_uv, nearest_entry_mired
from .rounding import compare, plain_text, total
from .units import k_from_mired, mired_from_k

JUST_VISIBLE_MIRED = 5.0  # mired, side by side [colour-6]
FARTHEST_DUV = 0.05  # no unit, beyond it a CCT has no meaning [colour-3]


def shift_between_mired(from_k: float, *, to_k: float) -> float:
    """Return the shift that turns one colour temperature into another; warm is positive.

    Args:
        from_k: the light as it is [K], above 0.
        to_k: the light as wanted [K], above 0.
    Returns: shift [mired].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [colour-1]

    >>> shift_between_mired(5000.0, to_k=4000.0)
    50.0
    """
    return mired_from_k(to_k) - mired_from_k(from_k)


def shifted_k(temperature_k: float, *, shift_mired: float) -> float:
    """Return the colour temperature after a filter; the same filter moves each lamp by the same mired.

    Args:
        temperature_k: the light before the filter [K], above 0.
        shift_mired: the filter's shift [mired], warm is positive.
    Returns: colour temperature [K].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [colour-1]

    >>> shifted_k(5000.0, shift_mired=50.0)
    4000.0
    """
    finite(shift_mired, field="shift_mired", unit="mired", next_step="read it off the filter's sheet")
    return k_from_mired(mired_from_k(temperature_k) + shift_mired)


def is_visible_difference(
    one_k: float, *, other_k: float, threshold_mired: float = JUST_VISIBLE_MIRED
) -> bool:
    """Return whether two lights side by side differ by a visible step of warmth.

    Args:
        one_k: colour temperature [K], above 0.
        other_k: colour temperature [K], above 0.
        threshold_mired: the just visible step [mired], above 0.
    Returns: True at the threshold and over it.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [colour-6]

    >>> is_visible_difference(3200.0, other_k=3250.0), is_visible_difference(5600.0, other_k=5800.0)
    (False, True)
    """
    above_zero(threshold_mired, field="threshold_mired", unit="mired", next_step="5 is usual")
    return compare(abs(shift_between_mired(one_k, to_k=other_k)), threshold_mired) >= 0


def _uv(x: float, y: float) -> tuple[float, float]:
    """Return CIE 1960 u, v of a chromaticity that can be a light's, else refuse."""
    for field, value in (("x", x), ("y", y)):
        within(value, low=0, high=1, field=field, unit="", next_step="read the meter again")
    above_zero(y, field="y", unit="", next_step="read the meter again")
    within(x + y, low=0, high=1, field="x + y", unit="", next_step="read the meter again")
    below = -2.0 * x + 12.0 * y + 3.0
    return 4.0 * x / below, 6.0 * y / below


def colour_temperature(x: float, *, y: float) -> dict[str, float]:
    """Return the correlated colour temperature and tint of a chromaticity.

    Args:
        x: CIE 1931 x [no unit], 0 to 1.
        y: CIE 1931 y [no unit], above 0 to 1.
    Returns: dict, keys temperature_k [K] (about 1,000 to 25,000) and duv [no unit] (above 0 green).
    Raises: RuleError "not_a_number", "not_positive", "outside_range", "off_locus".
    Source: [colour-2], [colour-3]

    >>> round(colour_temperature(0.44758, y=0.40745)["temperature_k"])
    2855
    """
    u, v = _uv(x, y)
    mired = float(nearest_entry_mired(u, v))
    for _ in range(20):  # each step cuts the error at least by half up to Duv 0.05
        near_u, near_v, slope_u, slope_v = locus_uv(mired)
        step = (u - near_u) * slope_u + (v - near_v) * slope_v
        before = mired
        mired = max(FIRST_MIRED, min(LAST_MIRED, mired + step / (slope_u * slope_u + slope_v * slope_v)))
        if abs(mired - before) < 1e-12:
            break
    near_u, near_v, _, _ = locus_uv(mired)
    distance = math.sqrt((u - near_u) * (u - near_u) + (v - near_v) * (v - near_v))
    if compare(distance, FARTHEST_DUV) > 0:
        sentence = (
            f"the colour lies {plain_text(distance)} from white light, the limit is {plain_text(FARTHEST_DUV)}; "
            "it has no colour temperature: name its hue instead"
        )
        raise RuleError("off_locus", sentence, value=distance, limit=FARTHEST_DUV)
    within(
        1e6 / mired, low=1000, high=25000, field="temperature_k", unit="K", next_step="read the meter again"
    )
    return {"temperature_k": 1e6 / mired, "duv": distance if v > near_v else -distance}


def chromaticity(temperature_k: float, *, duv: float = 0.0) -> dict[str, float]:
    """Return the chromaticity of a light known by colour temperature and tint.

    Args:
        temperature_k: correlated colour temperature [K], 1,000 to 25,000.
        duv: distance from the Planckian locus [no unit], above 0 green, -0.05 to 0.05.
    Returns: dict, keys x, y [CIE 1931, no unit].
    Raises: RuleError "not_a_number", "outside_range", "not_a_light".
    Source: [colour-2]

    >>> round(chromaticity(3200.0)["x"], 4)
    0.4234
    """
    next_step = "read the meter again"
    within(temperature_k, low=1000, high=25000, field="temperature_k", unit="K", next_step=next_step)
    within(duv, low=-FARTHEST_DUV, high=FARTHEST_DUV, field="duv", unit="", next_step=next_step)
    u, v, slope_u, slope_v = locus_uv(1e6 / temperature_k)
    size = math.sqrt(slope_u * slope_u + slope_v * slope_v)
    # Warmer means a larger u: the square of the slope that points upwards is the green side.
    u, v = u - duv * slope_v / size, v + duv * slope_u / size
    below = 2.0 * u - 8.0 * v + 4.0
    x, y = 3.0 * u / below, 2.0 * v / below
    if x + y > 1.0:
        sentence = "no light is so warm and so green at once; read temperature and tint again"
        raise RuleError("not_a_light", sentence, temperature_k=temperature_k, duv=duv)
    return {"x": x, "y": y}


def mccamy_k(x: float, *, y: float) -> float:
    """Return McCamy's quick estimate of the colour temperature; up to 19 K off for warm bulbs.

    Args:
        x: CIE 1931 x [no unit], 0 to 1.
        y: CIE 1931 y [no unit], above 0 to 1.
    Returns: estimate [K]; use colour_temperature instead, this is for comparing.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [colour-4]

    >>> round(mccamy_k(0.44758, y=0.40745))
    2857
    """
    _uv(x, y)
    n = (x - 0.3320) / (y - 0.1858)
    return -449.0 * n * n * n + 3525.0 * n * n - 6823.3 * n + 5520.33


def daylight_chromaticity(temperature_k: float) -> dict[str, float]:
    """Return the chromaticity of CIE daylight of a colour temperature.

    Args:
        temperature_k: correlated colour temperature [K], 4,000 to 25,000.
    Returns: dict, keys x, y [CIE 1931, no unit].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [colour-3]

    >>> round(daylight_chromaticity(5600.0)["x"], 4)
    0.3302
    """
    next_step = "daylight has 4,000 K and more"
    within(temperature_k, low=4000, high=25000, field="temperature_k", unit="K", next_step=next_step)
    inverse = 1000.0 / temperature_k
    factors = (-4.6070, 2.9678, 0.09911, 0.244063)
    if temperature_k > 7000:
        factors = (-2.0064, 1.9018, 0.24748, 0.237040)
    x = ((factors[0] * inverse + factors[1]) * inverse + factors[2]) * inverse + factors[3]
    return {"x": x, "y": -3.0 * x * x + 2.870 * x - 0.275}


def mixture(lights: list[dict[str, float]]) -> dict[str, float]:
    """Return the chromaticity of several lights on one surface, each weighted by its lux.

    Args:
        lights: list of dict, keys x, y [CIE 1931, no unit] and illuminance_lx [lx], above 0.
    Returns: dict, keys x, y [no unit] and illuminance_lx [lx].
    Raises: RuleError "not_a_number", "not_positive", "outside_range", "nothing_to_mix".
    Source: [colour-5]

    >>> lamp = {"x": 0.4, "y": 0.4, "illuminance_lx": 100.0}
    >>> mixture([lamp, lamp])["illuminance_lx"]
    200.0
    """
    if not lights:
        raise RuleError("nothing_to_mix", "no light to mix; give each light's x, y and lux")
    parts: list[tuple[float, float, float]] = []
    for light in lights:
        x, y, level_lx = light["x"], light["y"], light["illuminance_lx"]
        _uv(x, y)
        above_zero(level_lx, field="illuminance_lx", unit="lx", next_step="leave a dark lamp out")
        parts.append((level_lx * x / y, level_lx, level_lx * (1.0 - x - y) / y))
    sums = [total([part[index] for part in parts]) for index in range(3)]
    whole = total(sums)
    return {"x": sums[0] / whole, "y": sums[1] / whole, "illuminance_lx": sums[1]}
