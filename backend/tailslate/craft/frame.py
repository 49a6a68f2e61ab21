"""Is it in frame: a point of the set on the sensor, and how low a boom may hang.

The camera pans to the right and tilts upwards; places are (right, up, forward), see vectors.py.
Test an object's extreme points, not its middle, at both ends of a move and in the tallest framing.
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, finite, within
from .rounding import compare
from .vectors import minus

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .vectors import Vector

MARGIN_RATIO = 0.05  # share of the frame kept free (common practice, no source)


def seen_from_camera(point: "Vector", *, camera: "Vector", pan_deg: float, tilt_deg: float) -> "Vector":
    """Return a point as (right, up, depth) of the camera, after undoing its pan and tilt.

    Args:
        point: place on the set [m].
        camera: place of the lens [m].
        pan_deg: camera turned to the right [deg].
        tilt_deg: camera turned upwards [deg].
    Returns: place against the camera [m]; a depth of 0 and less lies behind the lens.
    Raises: RuleError "not_a_number".
    Source: [geometry-1]

    >>> seen_from_camera((0.0, 1.5, 3.0), camera=(0.0, 1.5, 0.0), pan_deg=0.0, tilt_deg=0.0)
    (0.0, 0.0, 3.0)
    """
    finite(pan_deg, field="pan_deg", unit="deg", next_step="read it off the head")
    finite(tilt_deg, field="tilt_deg", unit="deg", next_step="read it off the head")
    right, up, forward = minus(point, camera)
    pan, tilt = math.radians(pan_deg), math.radians(tilt_deg)
    right, forward = (
        right * math.cos(pan) - forward * math.sin(pan),
        right * math.sin(pan) + forward * math.cos(pan),
    )
    return (
        right,
        up * math.cos(tilt) - forward * math.sin(tilt),
        up * math.sin(tilt) + forward * math.cos(tilt),
    )


def on_sensor_m(
    point: "Vector", *, camera: "Vector", pan_deg: float, tilt_deg: float, focal_length_m: float
) -> tuple[float, float]:
    """Return where a point falls on the sensor, from its middle: right and up.

    Args:
        point: place on the set [m], in front of the lens.
        camera: place of the lens [m].
        pan_deg: camera turned to the right [deg].
        tilt_deg: camera turned upwards [deg].
        focal_length_m: of the lens [m], above 0.
    Returns: right and up on the sensor, as seen in the picture [m].
    Raises: RuleError "not_a_number", "not_positive", "behind_camera".
    Source: [lens-3]

    >>> on_sensor_m((1.0, 1.5, 2.0), camera=(0.0, 1.5, 0.0), pan_deg=0.0, tilt_deg=0.0, focal_length_m=0.05)
    (0.025, 0.0)
    """
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    right, up, depth = seen_from_camera(point, camera=camera, pan_deg=pan_deg, tilt_deg=tilt_deg)
    if depth <= 0:
        raise RuleError(
            "behind_camera", "the point lies behind the lens; it has no place in the picture", depth_m=depth
        )
    return focal_length_m * right / depth, focal_length_m * up / depth


def is_in_frame(
    point: "Vector",
    *,
    camera: "Vector",
    pan_deg: float,
    tilt_deg: float,
    focal_length_m: float,
    sensor_width_m: float,
    sensor_height_m: float,
    squeeze_ratio: float = 1.0,
    margin_ratio: float = 0.0,
) -> bool:
    """Return whether a point is in the picture, or within a margin outside its edge.

    Args:
        point: place on the set [m].
        camera: place of the lens [m].
        pan_deg: camera turned to the right [deg].
        tilt_deg: camera turned upwards [deg].
        focal_length_m: of the lens [m], above 0.
        sensor_width_m: recorded width [m], above 0.
        sensor_height_m: recorded height, after the crop [m], above 0.
        squeeze_ratio: of an anamorphic lens [ratio], above 0.
        margin_ratio: share of the frame to keep free round it [ratio], 0 or more; 0.05 is usual.
    Returns: True in frame or margin; False also for what lies behind the lens.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [lens-3]

    >>> is_in_frame((0.1, 1.45, -2.0), camera=(0.0, 1.5, 0.0), pan_deg=0.0, tilt_deg=0.0,
    ...     focal_length_m=0.035, sensor_width_m=0.02489, sensor_height_m=0.01345)
    False
    """
    above_zero(sensor_width_m, field="sensor_width_m", unit="m", next_step="read it off the camera's sheet")
    above_zero(sensor_height_m, field="sensor_height_m", unit="m", next_step="width over aspect ratio")
    above_zero(squeeze_ratio, field="squeeze_ratio", unit="", next_step="1 for a spherical lens")
    at_least_zero(margin_ratio, field="margin_ratio", unit="", next_step="0.05 is usual")
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    right, up, depth = seen_from_camera(point, camera=camera, pan_deg=pan_deg, tilt_deg=tilt_deg)
    if depth <= 0:
        return False
    # The edge itself counts as in frame: a boom that grazes it is seen.
    reach = (1.0 + 2.0 * margin_ratio) / 2.0 * depth / focal_length_m
    is_across = compare(abs(right), sensor_width_m * squeeze_ratio * reach) <= 0
    return is_across and compare(abs(up), sensor_height_m * reach) <= 0


def top_of_frame_m(
    ahead_m: float, *, camera_height_m: float, tilt_deg: float, focal_length_m: float, sensor_height_m: float
) -> float:
    """Return the height of the frame's top edge so far ahead: h + d * tan(tilt + V / 2).

    Holds across the frame for places equally far ahead along the camera's heading, not equally far
    from the lens. Keep a margin.

    Args:
        ahead_m: horizontal distance along the camera's heading [m], above 0.
        camera_height_m: lens above the floor [m].
        tilt_deg: camera turned upwards [deg], with half the view under 90.
        focal_length_m: of the lens [m], above 0.
        sensor_height_m: recorded height, after the crop [m], above 0.
    Returns: height above the floor [m]; what hangs lower is in the picture.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [lens-3]

    >>> round(top_of_frame_m(3.0, camera_height_m=1.5, tilt_deg=-4.0, focal_length_m=0.035, sensor_height_m=0.01345405), 3)
    1.862
    """
    above_zero(ahead_m, field="ahead_m", unit="m", next_step="measure along the floor")
    finite(camera_height_m, field="camera_height_m", unit="m", next_step="measure floor to lens")
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    above_zero(sensor_height_m, field="sensor_height_m", unit="m", next_step="width over aspect ratio")
    half_deg = math.degrees(math.atan2(sensor_height_m, 2.0 * focal_length_m))
    top_deg = tilt_deg + half_deg
    within(top_deg, low=-89, high=89, field="tilt_deg + half view", unit="deg", next_step="level the camera")
    return camera_height_m + ahead_m * math.tan(math.radians(top_deg))
