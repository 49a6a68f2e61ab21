"""What the lens of a set-up takes in: angles, field, depth of field. Records -> figures.

Depth of field goes by the f-number, never by the T-stop, and says its circle of confusion.
"""

from tailslate.craft import focus, view
from tailslate.craft.exposure import t_stop as t_stop_of
from tailslate.craft.rounding import compare, decimal_text, round_half_up
from tailslate.day import figures, shown
from tailslate.day.figures import Facts
from tailslate.day.viewpoint import MM_PER_M, sensor_m

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

LENS_TRANSMITTANCE_RATIO = 0.8  # of a lens of which nobody said it (common practice, no source)
BLUR_OF_WIDTH_RATIO = 0.001  # circle of confusion over the recorded width, at most 0.03 mm: Super 35 0.025 mm
LARGEST_BLUR_MM = 0.03  # full frame [lens-2]


def of_setup(shot: str, setup: str, records: "Gathered") -> "list[Figure]":
    """Return what the lens takes in.

    Args:
        shot: record key of the shot, for its stop.
        setup: record key of the set-up, "" when there is none.
        records: the shot with what it reads.
    Returns: list of dict as in `figures.plain`: angle of view, field, depth of field.
    """
    asked = (setup, records)
    return [
        figures.tried("Angle of view", _angle, *asked),
        figures.tried("Field at the subject", _field, *asked),
        figures.tried("Depth of field", _depth, shot, *asked),
    ]


def _angle(setup: str, records: "Gathered") -> "Figure":
    facts, label = Facts(setup, records), "Angle of view"
    lens_mm, sensor = facts.number("lens_mm"), sensor_m(facts)
    if lens_mm is None or sensor is None:
        return figures.unknown(label, facts.missing)
    across = view.angle_of_view_deg(sensor[0], focal_length_m=lens_mm / MM_PER_M, squeeze_ratio=sensor[2])
    up = view.angle_of_view_deg(sensor[1], focal_length_m=lens_mm / MM_PER_M)
    words = decimal_text(across, 1) + "\u00b0 by " + decimal_text(up, 1) + "\u00b0"
    return figures.plain(label, words, "focused far; a lens that breathes changes it", value=across)


def _length(number_m: float, records: "Gathered") -> str:
    """Return a length by the lens: nobody paces out a millimetre at five metres."""
    rounded_m = round_half_up(number_m, 3 if compare(number_m, 1.0) < 0 else 2)
    return shown.figure(rounded_m, "m", records.units)


def _field(setup: str, records: "Gathered") -> "Figure":
    facts, label = Facts(setup, records), "Field at the subject"
    lens_mm, sensor = facts.number("lens_mm"), sensor_m(facts)
    away_m = facts.number("camera_distance_m", "measure lens to subject")
    if lens_mm is None or sensor is None or away_m is None:
        return figures.unknown(label, facts.missing)
    sides = []
    for side_m in (sensor[0] * sensor[2], sensor[1]):
        sides.append(view.field_width_m(side_m, focal_length_m=lens_mm / MM_PER_M, distance_m=away_m))
    words = " by ".join([_length(side, records) for side in sides])
    line = "at " + shown.figure(away_m, "m", records.units) + " from the lens, focused there"
    return figures.plain(label, words, line, value=sides[0])


def blur_mm(facts: Facts) -> "tuple[float | None, str]":
    """Return the circle of confusion [mm], None when it is not known, and where it is from.

    Args:
        facts: of the set-up.
    """
    said_mm, width_mm = facts.known("blur_mm"), facts.known("sensor_width_mm")
    if said_mm is not None:
        return said_mm, ""
    if width_mm is None:
        facts.miss("blur_mm", "say the circle of confusion, 0.025 mm is usual on Super 35")
        return None, ""
    return min(width_mm * BLUR_OF_WIDTH_RATIO, LARGEST_BLUR_MM), " assumed"


def _depth(shot: str, setup: str, records: "Gathered") -> "Figure":
    facts, stop, label = Facts(setup, records), Facts(shot, records), "Depth of field"
    lens_mm, away_m = facts.number("lens_mm"), facts.number("camera_distance_m", "measure lens to subject")
    t_stop, (circle_mm, circle_from) = stop.number("t_stop"), blur_mm(facts)
    if lens_mm is None or away_m is None or t_stop is None or circle_mm is None:
        return figures.unknown(label, facts.missing + stop.missing)
    passed = facts.known("lens_transmittance_ratio")
    # T over f is the same at every stop: that of f/1.
    of_one = t_stop_of(1.0, lens_transmittance_ratio=LENS_TRANSMITTANCE_RATIO if passed is None else passed)
    f_number = t_stop / of_one
    found = focus.depth_of_field(
        lens_mm / MM_PER_M, f_number=f_number, blur_m=circle_mm / MM_PER_M, distance_m=away_m
    )
    near_m, far_m, total_m = found["near_m"], found["far_m"], found["total_m"]
    words = _length(near_m or 0.0, records) + " to "
    words += "far" if far_m is None else _length(far_m, records)
    line = "from the lens, circle of confusion " + shown.figure(circle_mm, "mm") + circle_from
    line += ", f/" + decimal_text(f_number, 1)
    if passed is None:
        line += ", reckoned from the T-stop at 80 % through the lens"
    return figures.plain(label, words, line, value=total_m)
