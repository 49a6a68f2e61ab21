"""Depth of field: hyperfocal distance, near and far limit. N is the f-number, never the T-stop.

Distances are from the lens; focus marks on a set are from the image plane. The circle of
confusion is a choice: show it beside every figure.
"""

from .errors import RuleError
from .limits import above_zero
from .rounding import compare


def hyperfocal_m(focal_length_m: float, *, f_number: float, blur_m: float) -> float:
    """Return the hyperfocal distance: H = f**2 / (N * c) + f.

    Args:
        focal_length_m: of the lens [m], above 0.
        f_number: as engraved, not the T-stop [f-number], above 0.
        blur_m: accepted circle of confusion on the sensor [m], above 0.
    Returns: distance from the lens [m].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [lens-2]

    >>> round(hyperfocal_m(0.05, f_number=8.0, blur_m=0.00003), 4)
    10.4667
    """
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    above_zero(f_number, field="f_number", unit="f-number", next_step="read it off the lens")
    above_zero(blur_m, field="blur_m", unit="m", next_step="0.000025 m is usual on Super 35")
    return focal_length_m * focal_length_m / (f_number * blur_m) + focal_length_m


def depth_of_field(
    focal_length_m: float, *, f_number: float, blur_m: float, distance_m: float
) -> "dict[str, float | None]":
    """Return the near and far limit of what is sharp: u(H-f)/(H+u-2f) and u(H-f)/(H-u).

    Args:
        focal_length_m: of the lens [m], above 0.
        f_number: as engraved, not the T-stop [f-number], above 0.
        blur_m: accepted circle of confusion on the sensor [m], above 0.
        distance_m: focus, from the lens [m], above focal_length_m.
    Returns: dict, keys near_m, far_m, total_m [m]; far_m and total_m are None when far is at infinity.
    Raises: RuleError "not_a_number", "not_positive", "too_near".
    Source: [lens-2]

    >>> round(depth_of_field(0.05, f_number=2.8, blur_m=0.000025, distance_m=3.0)["near_m"], 4)
    2.7711
    """
    far_start_m = hyperfocal_m(focal_length_m, f_number=f_number, blur_m=blur_m)
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the lens")
    if compare(distance_m, focal_length_m) <= 0:
        sentence = "distance_m must be more than the focal length; measure from the lens, in metres"
        raise RuleError("too_near", sentence, value=distance_m, limit=focal_length_m)
    reach_m = distance_m * (far_start_m - focal_length_m)
    near_m = reach_m / (far_start_m + distance_m - 2.0 * focal_length_m)
    if compare(distance_m, far_start_m) >= 0:
        return {"near_m": near_m, "far_m": None, "total_m": None}
    far_m = reach_m / (far_start_m - distance_m)
    return {"near_m": near_m, "far_m": far_m, "total_m": far_m - near_m}


def magnification_ratio(focal_length_m: float, *, distance_m: float) -> float:
    """Return the size on the sensor over the size on the set: f / (u - f).

    Args:
        focal_length_m: of the lens [m], above 0.
        distance_m: focus, from the lens [m], above focal_length_m.
    Returns: magnification [ratio], for close_up_loss_stops.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [lens-1]

    >>> magnification_ratio(0.125, distance_m=0.25)
    1.0
    """
    above_zero(focal_length_m, field="focal_length_m", unit="m", next_step="read it off the lens")
    next_step = "measure from the lens, in metres"
    free_m = above_zero(
        distance_m - focal_length_m, field="distance_m - focal_length_m", unit="m", next_step=next_step
    )
    return focal_length_m / free_m
