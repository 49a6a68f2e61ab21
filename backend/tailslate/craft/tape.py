"""Lengths of tape for marks, cable runs, edges and tubes, and what is left on a roll.

Lengths are as laid, waste where asked. Rolls are counted up. Test residue on a patch of a
location's floor; tape over a hot cable hides its heat; tape is no ramp (see walkway.py).
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, share
from .rounding import compare, count_up


def marks_m(mark_count: int, *, bar_m: float, stem_m: float, waste_ratio: float = 0.0) -> float:
    """Return the tape for T-marks: n * (bar + stem) * (1 + waste).

    Args:
        mark_count: marks (a count), one a performer and position, 0 or more.
        bar_m: length of the cross bar [m], 0 or more.
        stem_m: length of the stem [m], 0 or more.
        waste_ratio: torn, moved, laid again [ratio], 0 or more.
    Returns: length [m].
    Raises: RuleError "not_a_number", "negative".
    Source: [tape-1]

    >>> marks_m(10, bar_m=0.25, stem_m=0.25)
    5.0
    """
    checks = (("mark_count", mark_count), ("bar_m", bar_m), ("stem_m", stem_m), ("waste_ratio", waste_ratio))
    for field, value in checks:
        at_least_zero(value, field=field, unit="", next_step="count the marks again")
    return mark_count * (bar_m + stem_m) * (1.0 + waste_ratio)


def strip_count(run_m: float, *, pitch_m: float) -> int:
    """Return the cross strips on a run, one at each end too: run / pitch + 1.

    Args:
        run_m: length of the run [m], above 0.
        pitch_m: distance between strips [m], above 0.
    Returns: strips (a count); none is farther from the next than the pitch.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [tape-1]

    >>> strip_count(18.0, pitch_m=1.5)
    13
    """
    above_zero(run_m, field="run_m", unit="m", next_step="pace the run")
    above_zero(pitch_m, field="pitch_m", unit="m", next_step="1.5 m is usual")
    return count_up(run_m / pitch_m) + 1


def cable_run_m(run_m: float, *, pitch_m: float, strip_m: float) -> float:
    """Return the tape for a run taped along its whole length, with cross strips.

    Args:
        run_m: length of the run [m], above 0.
        pitch_m: distance between cross strips [m], above 0.
        strip_m: length of one cross strip [m], 0 or more.
    Returns: length [m].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [tape-1]

    >>> cable_run_m(15.0, pitch_m=1.5, strip_m=1.0)
    26.0
    """
    at_least_zero(strip_m, field="strip_m", unit="m", next_step="0.15 m is usual")
    return run_m + strip_count(run_m, pitch_m=pitch_m) * strip_m


def edge_wrap_m(*, width_m: float, height_m: float, layer_count: int, overlap_m: float) -> float:
    """Return the tape round a panel's edge: layers * (2 * (w + h) + overlap).

    Args:
        width_m: panel [m], above 0.
        height_m: panel [m], above 0.
        layer_count: layers (a count), 0 or more.
        overlap_m: overlap where a layer closes [m], 0 or more.
    Returns: length [m].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [tape-1]

    >>> edge_wrap_m(width_m=1.0, height_m=1.5, layer_count=2, overlap_m=0.0)
    10.0
    """
    above_zero(width_m, field="width_m", unit="m", next_step="measure the panel")
    above_zero(height_m, field="height_m", unit="m", next_step="measure the panel")
    at_least_zero(layer_count, field="layer_count", unit="layers", next_step="count the layers")
    at_least_zero(overlap_m, field="overlap_m", unit="m", next_step="0.04 m is usual")
    return layer_count * (2.0 * (width_m + height_m) + overlap_m)


def tube_wrap_m(
    *, tube_diameter_m: float, wrapped_m: float, tape_width_m: float, overlap_ratio: float
) -> float:
    """Return the tape that winds round a tube: pi * D * l / (width * (1 - overlap)).

    Args:
        tube_diameter_m: of the tube [m], above 0.
        wrapped_m: length of tube to cover [m], 0 or more.
        tape_width_m: of the tape [m], above 0.
        overlap_ratio: share of each turn that lies on the last [ratio, 0 to under 1].
    Returns: length [m]; each end takes about half a turn more.
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [tape-2]

    >>> round(tube_wrap_m(tube_diameter_m=0.035, wrapped_m=0.6, tape_width_m=0.048, overlap_ratio=0.5), 4)
    2.7489
    """
    above_zero(tube_diameter_m, field="tube_diameter_m", unit="m", next_step="measure the tube")
    at_least_zero(wrapped_m, field="wrapped_m", unit="m", next_step="measure the part to cover")
    above_zero(tape_width_m, field="tape_width_m", unit="m", next_step="read it off the roll")
    share(overlap_ratio, field="overlap_ratio")
    next_step = "half overlap is 0.5"
    free = above_zero(1.0 - overlap_ratio, field="1 - overlap_ratio", unit="", next_step=next_step)
    return math.pi * tube_diameter_m * wrapped_m / (tape_width_m * free)


def left_on_roll_m(*, outer_diameter_m: float, core_diameter_m: float, thickness_m: float) -> float:
    """Return the tape left on a roll: pi * (OD**2 - core**2) / (4 * thickness).

    Args:
        outer_diameter_m: across the roll [m], not under core_diameter_m.
        core_diameter_m: across the core, outside [m], 0 or more.
        thickness_m: of the tape [m], above 0.
    Returns: length [m].
    Raises: RuleError "not_a_number", "negative", "not_positive", "order_wrong".
    Source: [tape-2]

    >>> round(left_on_roll_m(outer_diameter_m=0.115, core_diameter_m=0.076, thickness_m=0.0003), 3)
    19.501
    """
    at_least_zero(core_diameter_m, field="core_diameter_m", unit="m", next_step="measure the core")
    above_zero(outer_diameter_m, field="outer_diameter_m", unit="m", next_step="measure across the roll")
    above_zero(thickness_m, field="thickness_m", unit="m", next_step="0.0003 m is usual for cloth tape")
    if compare(outer_diameter_m, core_diameter_m) < 0:
        sentence = "outer_diameter_m is under core_diameter_m; swap them"
        raise RuleError("order_wrong", sentence, value=outer_diameter_m, limit=core_diameter_m)
    square = outer_diameter_m * outer_diameter_m - core_diameter_m * core_diameter_m
    return math.pi * square / (4.0 * thickness_m)


def roll_count(needed_m: float, *, roll_m: float) -> int:
    """Return the rolls that cover a length.

    Args:
        needed_m: length to lay [m], 0 or more.
        roll_m: length on one roll [m], above 0.
    Returns: rolls (a count), rounded up.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [tape-1]

    >>> roll_count(50.3, roll_m=50.292)
    2
    """
    at_least_zero(needed_m, field="needed_m", unit="m", next_step="add up the lengths")
    return count_up(needed_m / above_zero(roll_m, field="roll_m", unit="m", next_step="read it off the roll"))
