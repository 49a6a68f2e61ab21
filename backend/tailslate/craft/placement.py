"""Where a subject stands before a source, and which part of a frame is lit, from what a tape measures.

On a floor people give a distance and an angle off the axis, and the share of a frame that is lit;
`level` and `diffusion` want places and sides.
"""

import math

from .limits import above_zero, within

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .level import Subject


def turned_subject(*, distance_m: float, off_axis_deg: float) -> "Subject":
    """Return the place of a subject off the axis that faces the middle of the source.

    Args:
        distance_m: from the middle of the last layer, or the bare lamp, to the subject [m], above 0.
        off_axis_deg: from the source's axis to the subject [deg], 0 to under 90.
    Returns: dict, keys distance_m (square to the source), right_m [m], pan_deg [deg].
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [geometry-1]

    >>> turned_subject(distance_m=2.0, off_axis_deg=0.0)
    {'distance_m': 2.0, 'right_m': 0.0, 'pan_deg': 0.0}
    """
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the last layer")
    next_step = "a subject beside or behind the source gets no light from its front"
    within(off_axis_deg, low=0, high=89.9, field="off_axis_deg", unit="deg", next_step=next_step)
    off = math.radians(off_axis_deg)
    return {
        "distance_m": distance_m * math.cos(off),
        "right_m": distance_m * math.sin(off),
        "pan_deg": off_axis_deg,
    }


def lit_sides_m(*, width_m: float, height_m: float, lit_share_ratio: float) -> "tuple[float, float]":
    """Return the sides of the lit part of a frame, a share of its area with the frame's own shape.

    Args:
        width_m: the frame's width [m], above 0.
        height_m: its height [m], above 0.
        lit_share_ratio: lit share of its area [ratio, above 0 to 1].
    Returns: lit width and lit height [m].
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [geometry-1]

    >>> lit_sides_m(width_m=2.0, height_m=1.0, lit_share_ratio=0.25)
    (1.0, 0.5)
    """
    above_zero(width_m, field="width_m", unit="m", next_step="measure the frame")
    above_zero(height_m, field="height_m", unit="m", next_step="measure the frame")
    above_zero(
        lit_share_ratio, field="lit_share_ratio", unit="", next_step="1 is a frame that is lit all over"
    )
    within(
        lit_share_ratio, low=0, high=1, field="lit_share_ratio", unit="", next_step="give it as a share of 1"
    )
    side = math.sqrt(lit_share_ratio)
    return width_m * side, height_m * side
