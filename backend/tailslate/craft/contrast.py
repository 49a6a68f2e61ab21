"""Key, fill and the levels that matter: ratios in the lighting convention, sums, offsets.

Lux from several sources add at one point and one facing; stops never do. The ratio is
(key + fill) : fill, because the fill reaches the key side too; where it does not, it is key : fill,
and only a person on the floor can say which. Kicker and back light are left out of both.
"""

import math

from .errors import RuleError
from .exposure import stops_between
from .limits import above_zero, at_least_zero, finite, within
from .rounding import total


def contrast_ratio(key_lx: float, *, fill_lx: float, fill_reaches_key_side: bool = True) -> float:
    """Return the contrast ratio against one: (key + fill) / fill, or key / fill.

    Args:
        key_lx: the key alone, meter towards it [lx], above 0.
        fill_lx: the fill alone, meter towards it [lx], above 0.
        fill_reaches_key_side: the fill also lights the key side of the face.
    Returns: contrast, to 1 [ratio].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [contrast-1]

    >>> contrast_ratio(600.0, fill_lx=200.0)
    4.0
    """
    above_zero(key_lx, field="key_lx", unit="lx", next_step="read the key alone")
    above_zero(
        fill_lx, field="fill_lx", unit="lx", next_step="read the fill alone; without fill there is no ratio"
    )
    return (key_lx + fill_lx if fill_reaches_key_side else key_lx) / fill_lx


def fill_for_ratio_lx(key_lx: float, *, ratio: float, fill_reaches_key_side: bool = True) -> float:
    """Return the fill that a wanted ratio asks for: key / (ratio - 1), or key / ratio.

    Args:
        key_lx: the key alone [lx], above 0.
        ratio: wanted contrast, to 1 [ratio]; above 1 where the fill reaches the key side.
        fill_reaches_key_side: the fill also lights the key side of the face.
    Returns: the fill alone [lx].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [contrast-1]

    >>> fill_for_ratio_lx(600.0, ratio=4.0)
    200.0
    """
    above_zero(key_lx, field="key_lx", unit="lx", next_step="read the key alone")
    finite(ratio, field="ratio", unit=":1", next_step="ask for 2 or 4, say")
    part = ratio - 1.0 if fill_reaches_key_side else ratio
    next_step = "a ratio of 1 needs fill without end; ask for more than 1"
    above_zero(
        part, field="ratio less 1" if fill_reaches_key_side else "ratio", unit=":1", next_step=next_step
    )
    return key_lx / part


def sum_lx(levels_lx: list[float]) -> float:
    """Return the light of several sources together, at one point and one facing.

    Args:
        levels_lx: each source alone [lx], 0 or more.
    Returns: sum [lx], the same in any order.
    Raises: RuleError "not_a_number", "negative".
    Source: [contrast-2]

    >>> sum_lx([420.0, 135.0, 60.0])
    615.0
    """
    for level_lx in levels_lx:
        at_least_zero(level_lx, field="level_lx", unit="lx", next_step="read the meter again")
    return total(levels_lx)


def spread_stops(levels_lx: list[float]) -> float:
    """Return how far the brightest place is over the darkest: log2(max / min).

    Args:
        levels_lx: the level at each place [lx], each above 0, at least one.
    Returns: spread [stop], 0 or more.
    Raises: RuleError "not_a_number", "not_positive", "nothing_to_compare".
    Source: [exposure-3]

    >>> spread_stops([400.0, 100.0, 200.0])
    2.0
    """
    for level_lx in levels_lx:
        above_zero(level_lx, field="level_lx", unit="lx", next_step="a dark place has no level in stops")
    if not levels_lx:
        raise RuleError("nothing_to_compare", "no level to compare; take a reading at two places or more")
    return stops_between(max(levels_lx), reference=min(levels_lx))


def added_light_lx(level_lx: float, *, rise_stops: float) -> float:
    """Return the light of a second source that lifts the sum by so many stops: E * (2**s - 1).

    Args:
        level_lx: the level now [lx], above 0.
        rise_stops: wanted rise of the sum [stop], 0 to 10.
    Returns: the second source alone [lx].
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [exposure-3]

    >>> added_light_lx(500.0, rise_stops=1.0)
    500.0
    """
    above_zero(level_lx, field="level_lx", unit="lx", next_step="read the meter again")
    next_step = "for a lower level dim or move back"
    within(rise_stops, low=0, high=10, field="rise_stops", unit="stop", next_step=next_step)
    return level_lx * (math.pow(2.0, rise_stops) - 1.0)
