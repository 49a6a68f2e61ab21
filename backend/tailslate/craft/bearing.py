"""Bearings on a floor: how far round something stands, and how far a bearing turned. Plane trigonometry."""

import math

HALF_TURN_DEG = 180.0  # [deg]; [geometry-1]


def around_deg(right_m: float, away_m: float) -> "float | None":
    """Return how far something stands round to the right of straight away: atan2(right, away).

    Args:
        right_m: how far it lies to the right [m].
        away_m: how far it lies away [m].
    Returns: bearing [deg], -180 to 180; None where it stands at the place itself.
    Raises: nothing.
    Source: [geometry-1]

    >>> around_deg(2.0, 0.0), around_deg(0.0, 0.0)
    (90.0, None)
    """
    return math.degrees(math.atan2(right_m, away_m)) if right_m or away_m else None


def up_deg(higher_m: float, *, right_m: float, away_m: float) -> float:
    """Return how far above level something stands: atan2(height, distance along the floor).

    Args:
        higher_m: how much higher it is [m].
        right_m: how far it lies to the right [m].
        away_m: how far it lies away [m].
    Returns: angle up from level [deg], -90 to 90.
    Raises: nothing.
    Source: [geometry-1]

    >>> up_deg(2.0, right_m=2.0, away_m=0.0)
    45.0
    """
    return math.degrees(math.atan2(higher_m, math.sqrt(right_m * right_m + away_m * away_m)))


def within_half_turn_deg(angle_deg: float) -> float:
    """Return an angle as -180 to 180.

    Args:
        angle_deg: any angle [deg].
    Returns: the same direction [deg].
    Raises: nothing.
    Source: [geometry-1]

    >>> within_half_turn_deg(190.0), within_half_turn_deg(-190.0), within_half_turn_deg(30.0)
    (-170.0, 170.0, 30.0)
    """
    return (angle_deg + HALF_TURN_DEG) % 360.0 - HALF_TURN_DEG
