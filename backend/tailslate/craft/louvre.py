"""A black louvre (egg crate) before an evenly bright rectangle, seen from one point.

Each cell passes light within atan(width / depth) of its axis, less towards the edge. So the
louvre hides the outer parts of a wide frame: less light, and a smaller, harder source.
"""

import math

from .limits import above_zero, at_least_zero
from .photometry import facing
from .quadrature import places
from .vectors import dot


def louvre_transmittance_ratio(cell_depth_ratio: float, *, right_ratio: float, up_ratio: float) -> float:
    """Return what square black cells pass in one direction: (1 - k|tan x|) * (1 - k|tan y|).

    Args:
        cell_depth_ratio: k, depth of a cell over its width [ratio], 0 or more.
        right_ratio: tangent of the angle from the axis, sideways [ratio].
        up_ratio: tangent of the angle from the axis, upwards [ratio].
    Returns: transmittance [ratio, 0 to 1].
    Raises: RuleError "not_a_number", "negative".
    Source: [light-9]

    >>> louvre_transmittance_ratio(1.0, right_ratio=0.5, up_ratio=0.0)
    0.5
    """
    at_least_zero(cell_depth_ratio, field="cell_depth_ratio", unit="", next_step="cell depth over cell width")
    across = max(0.0, 1.0 - cell_depth_ratio * abs(right_ratio))
    return across * max(0.0, 1.0 - cell_depth_ratio * abs(up_ratio))


def louvre_cut_off_deg(cell_depth_ratio: float) -> float:
    """Return the angle past which a louvre passes nothing: atan(1 / k).

    Args:
        cell_depth_ratio: k, depth of a cell over its width [ratio], above 0.
    Returns: angle from the axis [deg].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [light-9]

    >>> round(louvre_cut_off_deg(1.0), 6)
    45.0
    """
    above_zero(cell_depth_ratio, field="cell_depth_ratio", unit="", next_step="cell depth over cell width")
    return math.degrees(math.atan2(1.0, cell_depth_ratio))


def louvred_rectangle_illuminance_lx(
    luminance_cd_m2: float,
    *,
    cell_depth_ratio: float,
    width_m: float,
    height_m: float,
    distance_m: float,
    right_m: float = 0.0,
    up_m: float = 0.0,
    pan_deg: float = 0.0,
    tilt_deg: float = 0.0,
) -> float:
    """Return the light from an even rectangle through a black louvre that lies parallel to it.

    Args:
        luminance_cd_m2: luminance behind the louvre [cd/m2], 0 or more.
        cell_depth_ratio: depth of a cell over its width [ratio], above 0.
        width_m: bright width [m], above 0.
        height_m: bright height [m], above 0.
        distance_m: from the rectangle's plane to the receiver, square to the plane [m], above 0.
        right_m: how far the receiver stands to the right of the axis, seen along the beam [m].
        up_m: how far it is above the axis [m].
        pan_deg: how far it turns from facing the plane, to its own right [deg].
        tilt_deg: how far it turns upwards [deg].
    Returns: illuminance [lx].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [light-9], six-point quadrature [light-8]

    >>> round(louvred_rectangle_illuminance_lx(
    ...     1000.0, cell_depth_ratio=1.0, width_m=0.01, height_m=0.01, distance_m=10.0), 5)
    0.001
    """
    at_least_zero(luminance_cd_m2, field="luminance_cd_m2", unit="cd/m2", next_step="measure it again")
    above_zero(cell_depth_ratio, field="cell_depth_ratio", unit="", next_step="cell depth over cell width")
    above_zero(width_m, field="width_m", unit="m", next_step="measure the lit part of the frame")
    above_zero(height_m, field="height_m", unit="m", next_step="measure the lit part of the frame")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the frame")
    normal = facing(pan_deg, tilt_deg)
    reach = distance_m / cell_depth_ratio
    # Seen from the receiver's own foot on the plane, and no farther than the cells let it look.
    columns = places(max(-width_m / 2.0 - right_m, -reach), min(width_m / 2.0 - right_m, reach))
    rows = places(max(-height_m / 2.0 - up_m, -reach), min(height_m / 2.0 - up_m, reach))
    amount = 0.0
    for right, column_weight in columns:
        passed = column_weight * (1.0 - abs(right) / reach)
        for up, row_weight in rows:
            square = right * right + up * up + distance_m * distance_m
            towards = dot((right, up, -distance_m), normal)
            if towards > 0.0:
                open_share = passed * row_weight * (1.0 - abs(up) / reach)
                amount += open_share * towards * distance_m / (square * square)
    return luminance_cd_m2 * amount
