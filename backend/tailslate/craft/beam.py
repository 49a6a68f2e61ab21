"""What a lamp's beam puts on a frame: how much of the frame is lit, and how evenly.

The beam angle is the full angle between the directions of half the peak intensity. Its shape is
taken as bell-like (halved at the edge); the low and high ends are a beam that stops dead at its
edge after falling early, and one that stays even up to its edge. 180 degrees and more: even.
"""

import math

from .errors import RuleError
from .limits import above_zero

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .ranges import Range

LN2 = 0.6931471805599453  # natural logarithm of 2, no unit [exposure-3]
EVEN_BEAM_DEG = 180.0  # deg, a bulb: even in every direction in front [light-6]


def checked_beam_deg(beam_deg: float) -> float:
    """Return a beam angle that can be used, else refuse.

    Args:
        beam_deg: full angle at half the peak intensity [deg], above 0 to 360.
    Returns: beam_deg, unchanged [deg].
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [light-6]

    >>> checked_beam_deg(60.0)
    60.0
    """
    next_step = "read it off the lamp's sheet; a bare bulb has 360"
    above_zero(beam_deg, field="beam_deg", unit="deg", next_step=next_step)
    if beam_deg > 360:
        sentence = f"beam_deg must be 360 deg or less; {next_step}"
        raise RuleError("outside_range", sentence, field="beam_deg", value=beam_deg, limit=[0, 360])
    return beam_deg


def intensity_ratio(*, off_axis_deg: float, beam_deg: float) -> float:
    """Return the intensity off the beam's axis against the peak: 2**-(tan / tan half beam)**2.

    Args:
        off_axis_deg: from the beam's axis [deg], 0 to 180.
        beam_deg: full angle at half the peak intensity [deg], above 0 to 360.
    Returns: intensity over peak [ratio]; 0 behind a lamp that has a beam.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [light-6]

    >>> round(intensity_ratio(off_axis_deg=20.0, beam_deg=40.0), 6)
    0.5
    """
    if checked_beam_deg(beam_deg) >= EVEN_BEAM_DEG:
        return 1.0
    if abs(off_axis_deg) >= 90:
        return 0.0
    steps = math.tan(math.radians(off_axis_deg)) / math.tan(math.radians(beam_deg / 2.0))
    return math.pow(2.0, -min(steps * steps, 1000.0))


def lit_patch(
    *, beam_deg: float, distance_m: float, width_m: float, height_m: float
) -> "dict[str, float | Range]":
    """Return the part of a frame that a beam fills, as an even patch of the same light.

    Args:
        beam_deg: full angle at half the peak intensity [deg], above 0 to 360.
        distance_m: lamp to frame, square to it [m], above 0.
        width_m: the frame's width [m], above 0.
        height_m: its height [m], above 0.
    Returns: dict, keys width_m and height_m of the patch [m], and share_ratio: the range of the light on
        the frame against a typical beam (typical is 1).
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [light-6]

    >>> lit_patch(beam_deg=360.0, distance_m=1.0, width_m=1.2, height_m=1.2)["width_m"]
    1.2
    """
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure lamp to frame")
    above_zero(width_m, field="width_m", unit="m", next_step="measure the frame")
    above_zero(height_m, field="height_m", unit="m", next_step="measure the frame")
    even: Range = {"low": 1.0, "typical": 1.0, "high": 1.0}
    if checked_beam_deg(beam_deg) >= EVEN_BEAM_DEG:
        return {"width_m": width_m, "height_m": height_m, "share_ratio": even}
    radius_m = distance_m * math.tan(math.radians(beam_deg / 2.0))
    # The frame's area in beam areas; the light on it, in peak light over one beam area.
    areas = width_m * height_m / (math.pi * radius_m * radius_m)
    inside = min(areas, 1.0)
    typical = (1.0 - math.pow(2.0, -min(areas, 1000.0))) / LN2
    low = inside * math.pow(2.0, -inside)
    high = inside + max(0.0, typical - 0.5 / LN2)
    share: Range = {"low": low / typical, "typical": 1.0, "high": high / typical}
    patch_m2 = min(width_m * height_m, typical * math.pi * radius_m * radius_m)
    patch_width_m = min(width_m, max(math.sqrt(patch_m2), patch_m2 / height_m))
    return {"width_m": patch_width_m, "height_m": patch_m2 / patch_width_m, "share_ratio": share}
