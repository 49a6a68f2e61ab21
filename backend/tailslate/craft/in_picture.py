"""Where upright things of the set fall in the picture, many of them for one camera.

A thing is an upright rectangle that faces the camera: as wide as its widest side, so whatever way it is
turned it is not missed. Its outline's bounds are compared with the frame: a pole that crosses the whole
frame is in it, though both its ends are outside. What stands behind something else is not known here.
"""

import math

from .frame import MARGIN_RATIO
from .limits import above_zero, at_least_zero, finite, share
from .rounding import compare

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .vectors import Vector

NEAREST_M = 0.05  # m, what is nearer to the lens than this is cut off (common practice, no source)


def picture(
    *,
    camera: "Vector",
    pan_deg: float,
    tilt_deg: float,
    focal_length_m: float,
    sensor_width_m: float,
    sensor_height_m: float,
    squeeze_ratio: float = 1.0,
) -> "dict[str, Any]":
    """Return a camera's view, worked out once for many things.

    Args:
        camera: place of the lens, (right, up, forward) [m].
        pan_deg: camera turned to the right [deg].
        tilt_deg: camera turned upwards [deg].
        focal_length_m: of the lens [m], above 0.
        sensor_width_m: recorded width [m], above 0.
        sensor_height_m: recorded height, after the crop [m], above 0.
        squeeze_ratio: of an anamorphic lens [ratio], above 0.
    Returns: dict, keys camera [m], pan and tilt as (cosine, sine) [no unit], half_right and half_up, half
        the picture over the distance [ratio].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [lens-3]

    >>> view = picture(camera=(0.0, 1.5, 0.0), pan_deg=0.0, tilt_deg=0.0, focal_length_m=0.05,
    ...     sensor_width_m=0.02, sensor_height_m=0.01)
    >>> round(view["half_right"], 9), round(view["half_up"], 9)
    (0.2, 0.1)
    """
    finite(pan_deg, field="pan_deg", unit="deg", next_step="read it off the head")
    finite(tilt_deg, field="tilt_deg", unit="deg", next_step="read it off the head")
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    above_zero(sensor_width_m, field="sensor_width_m", unit="m", next_step="read it off the camera's sheet")
    above_zero(sensor_height_m, field="sensor_height_m", unit="m", next_step="width over aspect ratio")
    above_zero(squeeze_ratio, field="squeeze_ratio", unit="", next_step="1 for a spherical lens")
    pan, tilt = math.radians(pan_deg), math.radians(tilt_deg)
    return {
        "camera": camera,
        "pan": (math.cos(pan), math.sin(pan)),
        "tilt": (math.cos(tilt), math.sin(tilt)),
        "half_right": squeeze_ratio * sensor_width_m / (2.0 * focal_length_m),
        "half_up": sensor_height_m / (2.0 * focal_length_m),
    }


def upright_in_picture(
    view: "dict[str, Any]",
    *,
    foot: "Vector",
    height_m: float,
    half_width_m: float,
    margin_ratio: float = MARGIN_RATIO,
) -> "dict[str, Any]":
    """Return where an upright thing falls in the picture.

    Args:
        view: as from picture (no unit).
        foot: middle of its lower edge, (right, up, forward) [m].
        height_m: its own height [m], 0 or more.
        half_width_m: half its widest side [m], 0 or more.
        margin_ratio: share of the frame to keep free round it [ratio], 0 or more.
    Returns: dict, keys state (in, edge: only in the margin, out), left, right, bottom, top (bounds in
        halves of the picture from its middle [ratio]; None behind the lens).
    Raises: RuleError "not_a_number", "negative".
    Source: [lens-3]

    >>> view = picture(camera=(0.0, 1.5, 0.0), pan_deg=0.0, tilt_deg=0.0, focal_length_m=0.05,
    ...     sensor_width_m=0.02, sensor_height_m=0.01)
    >>> upright_in_picture(view, foot=(0.0, 0.0, 4.0), height_m=3.0, half_width_m=0.01)["state"]
    'in'
    """
    if not (
        height_m >= 0.0 and half_width_m >= 0.0 and margin_ratio >= 0.0
    ):  # one look for the many that are fine
        at_least_zero(height_m, field="height_m", unit="m", next_step="measure it")
        at_least_zero(half_width_m, field="half_width_m", unit="m", next_step="measure its widest side")
        at_least_zero(margin_ratio, field="margin_ratio", unit="", next_step="0.05 is usual")
    camera, (cos_pan, sin_pan), (cos_tilt, sin_tilt) = view["camera"], view["pan"], view["tilt"]
    away_right, away_up, away_forward = (foot[0] - camera[0], foot[1] - camera[1], foot[2] - camera[2])
    across = away_right * cos_pan - away_forward * sin_pan
    ahead = away_right * sin_pan + away_forward * cos_pan
    ends = _before_lens(away_up, away_up + height_m, ahead, cos_tilt, sin_tilt)
    if not ends:
        return {"state": "out", "left": None, "right": None, "bottom": None, "top": None}
    sides, heights = [], []
    for up in ends:
        depth = up * sin_tilt + ahead * cos_tilt
        sides.extend([(across - half_width_m) / depth, (across + half_width_m) / depth])
        heights.append((up * cos_tilt - ahead * sin_tilt) / depth)
    found = {
        "left": min(sides) / view["half_right"],
        "right": max(sides) / view["half_right"],
        "bottom": min(heights) / view["half_up"],
        "top": max(heights) / view["half_up"],
    }
    # The edge itself counts as in frame: what grazes it is seen.
    nearest = max(found["left"], -found["right"], found["bottom"], -found["top"])
    found["state"] = "out"
    if compare(nearest, 1.0) <= 0:
        found["state"] = "in"
    elif compare(nearest, 1.0 + 2.0 * margin_ratio) <= 0:
        found["state"] = "edge"
    return found


def _before_lens(low: float, high: float, ahead: float, cos_tilt: float, sin_tilt: float) -> "list[float]":
    """Return the two ends of an upright line that lie before the lens, cut where they pass it."""
    ends = []
    for up, other in ((low, high), (high, low)):
        depth = up * sin_tilt + ahead * cos_tilt
        other_depth = other * sin_tilt + ahead * cos_tilt
        if depth >= NEAREST_M:
            ends.append(up)
        elif other_depth >= NEAREST_M:
            ends.append((NEAREST_M - ahead * cos_tilt) / sin_tilt)
    return ends


def place_between(start: "Vector", *, end: "Vector", share_ratio: float) -> "Vector":
    """Return a place on the straight line of a move.

    Args:
        start: where it begins [m].
        end: where it ends [m].
        share_ratio: how far along [ratio, 0 to 1].
    Returns: place [m].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [geometry-1]

    >>> place_between((0.0, 1.0, 0.0), end=(2.0, 1.0, 4.0), share_ratio=0.5)
    (1.0, 1.0, 2.0)
    """
    share(share_ratio, field="share_ratio")
    return (
        start[0] + (end[0] - start[0]) * share_ratio,
        start[1] + (end[1] - start[1]) * share_ratio,
        start[2] + (end[2] - start[2]) * share_ratio,
    )
