"""The floor that a camera and its people sweep: how far a thing stands from it.

People follow the lens at its back; they walk where they do not look. Floor places are (right, forward).
The people's floor is taken as a round of the floor's depth behind the lens, moved along a straight line.
"""

import math

from .limits import above_zero, at_least_zero

TYPE_CHECKING = False
if TYPE_CHECKING:
    Floor = tuple[float, float]

OPERATOR_FLOOR_M = 1.5  # m, clear floor behind the lens (common practice, no source)


def floor_middle(*, lens: "Floor", pan_deg: float, depth_m: float) -> "Floor":
    """Return the middle of the floor behind a lens.

    Args:
        lens: place of the lens, (right, forward) [m].
        pan_deg: camera turned to the right [deg].
        depth_m: clear floor behind the lens [m], above 0.
    Returns: place, (right, forward) [m].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [geometry-1]

    >>> floor_middle(lens=(1.0, 2.0), pan_deg=0.0, depth_m=1.5)
    (1.0, 1.25)
    """
    above_zero(depth_m, field="depth_m", unit="m", next_step="1.5 m is usual")
    pan = math.radians(pan_deg)
    return (lens[0] - math.sin(pan) * depth_m / 2.0, lens[1] - math.cos(pan) * depth_m / 2.0)


def gap_to_path_m(place: "Floor", *, radius_m: float, start: "Floor", end: "Floor", depth_m: float) -> float:
    """Return the free floor between a thing and the path that is swept; below 0 it stands in the way.

    Args:
        place: middle of the thing, (right, forward) [m].
        radius_m: how far it reaches from there [m], 0 or more.
        start: middle of the people's floor where the move begins [m].
        end: where it ends [m].
        depth_m: depth of the people's floor [m], above 0.
    Returns: gap [m].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [geometry-1]

    >>> gap_to_path_m((2.0, 1.0), radius_m=0.5, start=(0.0, 0.0), end=(0.0, 4.0), depth_m=1.5)
    0.75
    """
    at_least_zero(radius_m, field="radius_m", unit="m", next_step="measure how far it reaches")
    above_zero(depth_m, field="depth_m", unit="m", next_step="1.5 m is usual")
    along = (end[0] - start[0], end[1] - start[1])
    away = (place[0] - start[0], place[1] - start[1])
    square = along[0] * along[0] + along[1] * along[1]
    share = 0.0
    if square > 0.0:
        share = min(1.0, max(0.0, (away[0] * along[0] + away[1] * along[1]) / square))
    right, forward = away[0] - share * along[0], away[1] - share * along[1]
    return math.sqrt(right * right + forward * forward) - radius_m - depth_m / 2.0
