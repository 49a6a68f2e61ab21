"""Where the camera stands and how it is turned, at the start, the middle and the end of a move.

Places are told from an origin that the crew agreed on: x to the right, y away, as seen along pan 0.
A tilt that nobody said is taken as level.
"""

from tailslate.craft import in_picture, view
from tailslate.craft.floor_path import OPERATOR_FLOOR_M, floor_middle
from tailslate.craft.rounding import compare
from tailslate.day.figures import Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.vectors import Vector
    from tailslate.day.gathered import Gathered

MM_PER_M = 1000.0
# field of the set-up at the start, and at the end of the move
TURNS = (
    ("x_m", "end_x_m"),
    ("y_m", "end_y_m"),
    ("camera_height_m", "end_height_m"),
    ("pan_deg", "end_pan_deg"),
    ("tilt_deg", "end_tilt_deg"),
)
PLACE_IT = "place the camera: measure it from the origin that the crew agreed on"


def sensor_m(facts: Facts) -> "tuple[float, float, float] | None":
    """Return recorded width, height and squeeze, the height cropped to the picture's shape; None when not known.

    Args:
        facts: of the set-up.
    """
    width_mm = facts.number("sensor_width_mm", "read the recorded width off the camera's sheet")
    height_mm, aspect = facts.known("sensor_height_mm"), facts.known("aspect_ratio")
    squeeze = facts.known("squeeze_ratio") or 1.0
    if height_mm is None and aspect is None:
        facts.miss("aspect_ratio", "say the shape of the picture, width over height")
    if width_mm is None or facts.missing:
        return None
    width_m = width_mm / MM_PER_M
    full_m = None if height_mm is None else height_mm / MM_PER_M
    if aspect is None:
        return width_m, full_m or 0.0, squeeze
    cropped_m = view.cropped_height_m(width_m, aspect_ratio=aspect, squeeze_ratio=squeeze)
    return width_m, cropped_m if full_m is None else min(cropped_m, full_m), squeeze


def positions(setup: str, records: "Gathered") -> "tuple[list[dict[str, Any]], Facts]":
    """Return the camera at the start, and at the middle and the end when it moves; [] when it is not placed.

    Args:
        setup: record key of the set-up, "" when there is none.
        records: the set-up.
    Returns: list of dict, keys name (start, middle, end), lens (right, up, forward in m), pan_deg, tilt_deg,
        view (as `in_picture.picture`), floor (middle of the people's floor); and the facts read.
    """
    facts = Facts(setup, records)
    starts, ends = [], []
    for field, end_field in TURNS:
        start = facts.known(field) if field == "tilt_deg" else facts.number(field, PLACE_IT)
        start = 0.0 if start is None else start
        end = facts.known(end_field)
        starts.append(start)
        ends.append(start if end is None else end)
    lens_mm, sensor = facts.number("lens_mm"), sensor_m(facts)
    if lens_mm is None or sensor is None or facts.missing:
        return [], facts
    moves = [one for one in range(len(starts)) if compare(starts[one], ends[one])]
    found = []
    for name, share in (("start", 0.0), ("middle", 0.5), ("end", 1.0)) if moves else (("start", 0.0),):
        turned = [start + (end - start) * share for start, end in zip(starts, ends)]
        lens: Vector = (turned[0], turned[2], turned[1])
        one: dict[str, Any] = {"name": name, "lens": lens, "pan_deg": turned[3], "tilt_deg": turned[4]}
        one["view"] = in_picture.picture(
            camera=lens,
            pan_deg=turned[3],
            tilt_deg=turned[4],
            focal_length_m=lens_mm / MM_PER_M,
            sensor_width_m=sensor[0],
            sensor_height_m=sensor[1],
            squeeze_ratio=sensor[2],
        )
        one["floor"] = floor_middle(
            lens=(turned[0], turned[1]), pan_deg=turned[3], depth_m=floor_m(setup, records)
        )
        found.append(one)
    return found, facts


def floor_m(setup: str, records: "Gathered") -> float:
    """Return the depth of the people's floor behind the lens [m], what is usual when nobody said.

    Args:
        setup: record key of the set-up.
        records: the set-up.
    """
    return records.number(setup, "operator_floor_m") or OPERATOR_FLOOR_M
