"""Where to set a dimmer for a level: a range until two readings are known, then a figure.

Percent on a dimmer is rarely percent of light, and colour shifts with it on tungsten. Common
curves lie between straight (light as percent) and square-like (light as percent to the 2.2).
"""

import math

from .errors import RuleError
from .limits import above_zero, within
from .rounding import compare, plain_text

STRAIGHT_POWER = 1.0  # light as the percent itself (common practice, no source)
STEEPEST_POWER = 2.2  # light as percent to this power (common practice, no source)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .ranges import Range


def _checked_readings(readings: list[tuple[float, float]]) -> list[tuple[float, float]]:
    for setting, level_lx in readings:
        above_zero(
            setting, field="setting_ratio", unit="", next_step="read it off the dimmer, as a share of 1"
        )
        within(setting, low=0, high=1, field="setting_ratio", unit="", next_step="as a share of 1")
        above_zero(level_lx, field="level_lx", unit="lx", next_step="read the source alone")
    readings = sorted(readings)
    for index in range(1, len(readings)):
        before, after = readings[index - 1], readings[index]
        if compare(after[0], before[0]) <= 0 or compare(after[1], before[1]) <= 0:
            sentence = (
                f"a higher setting must give more light: {plain_text(before[0])} gave {plain_text(before[1])} lx, "
                f"{plain_text(after[0])} gave {plain_text(after[1])} lx; read both again, the other lamps off"
            )
            raise RuleError("order_wrong", sentence, value=[before, after])
    return readings


def dimmer_setting_ratio(wanted_lx: float, *, readings: list[tuple[float, float]]) -> "Range | None":
    """Return the dimmer setting that gives a wanted level, from readings of the source alone.

    One reading: a range between the two common curves through it. Two and more: the power law
    through the two readings nearest to the wanted level.

    Args:
        wanted_lx: wanted level of this source [lx], above 0.
        readings: list of (setting [ratio, above 0 to 1], level [lx, above 0]), at least one.
    Returns: range, keys low, typical, high [ratio]; None when even full output would not be enough
        (see ways_out.py).
    Raises: RuleError "not_a_number", "not_positive", "outside_range", "order_wrong", "nothing_to_compare".
    Source: [dimmer-1]

    >>> dimmer_setting_ratio(50.0, readings=[(1.0, 200.0)])["low"]
    0.25
    >>> dimmer_setting_ratio(50.0, readings=[(0.5, 50.0), (1.0, 200.0)])["typical"]
    0.5
    """
    above_zero(wanted_lx, field="wanted_lx", unit="lx", next_step="set a target first")
    readings = _checked_readings(readings)
    if not readings:
        raise RuleError("nothing_to_compare", "no reading of this source; take one at a known setting")
    if len(readings) == 1:
        setting, level_lx = readings[0]
        ends = [
            setting * math.pow(wanted_lx / level_lx, 1.0 / power)
            for power in (STRAIGHT_POWER, STEEPEST_POWER)
        ]
        low, high = min(ends), max(ends)
        typical = math.sqrt(low * high)
    else:
        over = [index for index in range(1, len(readings)) if readings[index][1] >= wanted_lx]
        upper = over[0] if over else len(readings) - 1
        (low_setting, low_lx), (high_setting, high_lx) = readings[upper - 1], readings[upper]
        power = math.log(high_setting / low_setting) / math.log(high_lx / low_lx)
        low = typical = high = low_setting * math.pow(wanted_lx / low_lx, power)
    if compare(low, 1.0) > 0:
        return None
    return {"low": low, "typical": min(1.0, typical), "high": min(1.0, high)}


def full_output_lx(readings: list[tuple[float, float]]) -> "Range":
    """Return what a source gives at full, from readings at known settings.

    Args:
        readings: list of (setting [ratio, above 0 to 1], level [lx, above 0]), at least one.
    Returns: range, keys low, typical, high [lx].
    Raises: RuleError "not_a_number", "not_positive", "outside_range", "order_wrong", "nothing_to_compare".
    Source: [dimmer-1]

    >>> full_output_lx([(0.5, 100.0)])["low"]
    200.0
    """
    readings = _checked_readings(readings)
    if not readings:
        raise RuleError("nothing_to_compare", "no reading of this source; take one at a known setting")
    setting, level_lx = readings[-1]
    if len(readings) == 1:
        low = level_lx / math.pow(setting, STRAIGHT_POWER)
        high = level_lx / math.pow(setting, STEEPEST_POWER)
        return {"low": low, "typical": math.sqrt(low * high), "high": high}
    before_setting, before_lx = readings[-2]
    power = math.log(level_lx / before_lx) / math.log(setting / before_setting)
    full = level_lx * math.pow(1.0 / setting, power)
    return {"low": full, "typical": full, "high": full}
