"""What a lens takes in: angles of view, field size, the crop of an aspect ratio.

Sensor sizes are what is recorded, in metres inside and millimetres at the edge. Squeeze widens
only. Angles are for focus at infinity; a lens that breathes changes them.
"""

import math

from .errors import RuleError
from .limits import above_zero
from .rounding import compare


def angle_of_view_deg(sensor_side_m: float, *, focal_length_m: float, squeeze_ratio: float = 1.0) -> float:
    """Return the angle of view across one side of the sensor: 2 * atan(squeeze * w / (2 * f)).

    Args:
        sensor_side_m: recorded width or height [m], above 0.
        focal_length_m: of the lens [m], above 0.
        squeeze_ratio: of an anamorphic lens [ratio], above 0, for the width only; 1 for the height.
    Returns: angle [deg].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [lens-1]

    >>> round(angle_of_view_deg(0.02489, focal_length_m=0.035), 2)
    39.15
    """
    above_zero(sensor_side_m, field="sensor_side_m", unit="m", next_step="read it off the camera's sheet")
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    above_zero(squeeze_ratio, field="squeeze_ratio", unit="", next_step="1 for a spherical lens")
    return 2.0 * math.degrees(math.atan2(squeeze_ratio * sensor_side_m, 2.0 * focal_length_m))


def cropped_height_m(sensor_width_m: float, *, aspect_ratio: float, squeeze_ratio: float = 1.0) -> float:
    """Return the height that an aspect ratio leaves of a sensor: squeeze * width / aspect.

    Args:
        sensor_width_m: recorded width [m], above 0.
        aspect_ratio: width over height of the picture [ratio], above 0.
        squeeze_ratio: of an anamorphic lens [ratio], above 0.
    Returns: height on the sensor [m]; it cannot exceed the sensor's own.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [lens-1]

    >>> cropped_height_m(0.024, aspect_ratio=2.0)
    0.012
    """
    above_zero(sensor_width_m, field="sensor_width_m", unit="m", next_step="read it off the camera's sheet")
    above_zero(aspect_ratio, field="aspect_ratio", unit="", next_step="2.39 or 1.85, say")
    above_zero(squeeze_ratio, field="squeeze_ratio", unit="", next_step="1 for a spherical lens")
    return squeeze_ratio * sensor_width_m / aspect_ratio


def field_width_m(
    sensor_side_m: float, *, focal_length_m: float, distance_m: float, is_thin_lens: bool = True
) -> float:
    """Return the width of the field at a distance: w * (u - f) / f focused there, w * u / f as a pinhole.

    The two are 2 % apart at 50 focal lengths: say which one is shown.

    Args:
        sensor_side_m: recorded width or height [m], above 0.
        focal_length_m: of the lens [m], above 0.
        distance_m: from the lens, not from the film plane mark [m], above focal_length_m.
        is_thin_lens: the lens is focused at that distance.
    Returns: width or height of the field [m].
    Raises: RuleError "not_a_number", "not_positive", "too_near".
    Source: [lens-1]

    >>> round(field_width_m(0.02489, focal_length_m=0.05, distance_m=2.5), 5)
    1.21961
    """
    above_zero(sensor_side_m, field="sensor_side_m", unit="m", next_step="read it off the camera's sheet")
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the lens")
    if compare(distance_m, focal_length_m) <= 0:
        sentence = "distance_m must be more than the focal length; measure from the lens, in metres"
        raise RuleError("too_near", sentence, value=distance_m, limit=focal_length_m)
    away_m = distance_m - focal_length_m if is_thin_lens else distance_m
    return sensor_side_m * away_m / focal_length_m
