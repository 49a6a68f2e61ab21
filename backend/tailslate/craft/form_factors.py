"""How much of the light of one flat surface reaches another: solid angles and exchange shares.

Surfaces are even and Lambertian, rectangles are parallel and centred on one axis. A share has
no unit; the light itself comes in elsewhere.
"""

import math

from .limits import above_zero, at_least_zero


def rectangle_solid_angle_sr(*, width_m: float, height_m: float, distance_m: float) -> float:
    """Return the solid angle of a rectangle seen from its axis: 4 * atan(w*h / (2d*sqrt(4d2+w2+h2))).

    Args:
        width_m: width [m], above 0.
        height_m: height [m], above 0.
        distance_m: from its centre along the axis [m], above 0.
    Returns: solid angle [sr], under 2 pi.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [geometry-2]

    >>> round(rectangle_solid_angle_sr(width_m=2.0, height_m=2.0, distance_m=1.0) * 3 / (2 * math.pi), 9)
    1.0
    """
    above_zero(width_m, field="width_m", unit="m", next_step="measure the rectangle")
    above_zero(height_m, field="height_m", unit="m", next_step="measure the rectangle")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from its centre")
    diagonal = 4.0 * distance_m * distance_m + width_m * width_m + height_m * height_m
    return 4.0 * math.atan2(width_m * height_m, 2.0 * distance_m * math.sqrt(diagonal))


def _corner_term(across: float, along: float, gap: float) -> float:
    """Return one corner's term of the exchange between parallel rectangles, times 2 pi."""
    from_across = math.sqrt(across * across + gap * gap)
    from_along = math.sqrt(along * along + gap * gap)
    term = along * from_across * math.atan2(along, from_across) if from_across > 0 else 0.0
    term += across * from_along * math.atan2(across, from_along) if from_along > 0 else 0.0
    if gap > 0:
        term -= gap * gap / 2.0 * math.log(across * across + along * along + gap * gap)
    return term


def parallel_rectangles_ratio(
    *, from_width_m: float, from_height_m: float, to_width_m: float, to_height_m: float, gap_m: float
) -> float:
    """Return the share of the light leaving one rectangle that reaches the other.

    Args:
        from_width_m: width of the one that shines [m], above 0.
        from_height_m: its height [m], above 0.
        to_width_m: width of the one that is lit [m], above 0.
        to_height_m: its height [m], above 0.
        gap_m: distance between their planes [m], 0 or more.
    Returns: exchange share [ratio, 0 to 1].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [light-2], C-13

    >>> round(parallel_rectangles_ratio(
    ...     from_width_m=1.0, from_height_m=1.0, to_width_m=1.0, to_height_m=1.0, gap_m=1.0), 4)
    0.1998
    """
    sides = (("from_width_m", from_width_m), ("from_height_m", from_height_m))
    for field, side in sides + (("to_width_m", to_width_m), ("to_height_m", to_height_m)):
        above_zero(side, field=field, unit="m", next_step="measure the frame")
    at_least_zero(gap_m, field="gap_m", unit="m", next_step="measure between the frames")
    # Centred rectangles: the sixteen corner terms fall together in four, by symmetry.
    wide, narrow = (to_width_m + from_width_m) / 2.0, (to_width_m - from_width_m) / 2.0
    high, low = (to_height_m + from_height_m) / 2.0, (to_height_m - from_height_m) / 2.0
    terms = _corner_term(wide, high, gap_m) - _corner_term(wide, low, gap_m)
    terms += _corner_term(narrow, low, gap_m) - _corner_term(narrow, high, gap_m)
    share = 4.0 * terms / (2.0 * math.pi * from_width_m * from_height_m)
    return min(1.0, max(0.0, share))
