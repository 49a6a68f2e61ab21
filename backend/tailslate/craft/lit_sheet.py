"""One scattering sheet lit unevenly by a small lamp: the exact figure behind diffusion.py's even patch.

The lamp's light falls off over the frame as cos**3; each part of the sheet then shines for itself.
"""

import math

from .limits import above_zero, at_least_zero, share
from .quadrature import places


def lamp_lit_sheet_illuminance_lx(
    intensity_cd: float,
    *,
    lamp_distance_m: float,
    width_m: float,
    height_m: float,
    transmittance_ratio: float,
    distance_m: float,
    right_m: float = 0.0,
    up_m: float = 0.0,
) -> float:
    """Return the light from an evenly scattering sheet with a small, even lamp behind its middle.

    Args:
        intensity_cd: the lamp's intensity, the same over the frame [cd], 0 or more.
        lamp_distance_m: lamp to sheet [m], above 0.
        width_m: of the sheet, lit all over [m], above 0.
        height_m: of the sheet [m], above 0.
        transmittance_ratio: share that comes out on the far side [ratio, 0 to 1].
        distance_m: from the sheet to a receiver parallel to it [m], above 0.
        right_m: how far the receiver stands to the right of the axis [m].
        up_m: how far above it [m].
    Returns: illuminance [lx], within 0.1 % from half the frame's width on.
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [light-1], [light-3], six-point quadrature [light-8]

    >>> round(lamp_lit_sheet_illuminance_lx(20000.0, lamp_distance_m=1.5, width_m=1.2192, height_m=1.2192,
    ...     transmittance_ratio=0.5, distance_m=2.0), 1)
    405.7
    """
    at_least_zero(intensity_cd, field="intensity_cd", unit="cd", next_step="read it off the lamp's sheet")
    above_zero(lamp_distance_m, field="lamp_distance_m", unit="m", next_step="measure lamp to frame")
    above_zero(width_m, field="width_m", unit="m", next_step="measure the frame")
    above_zero(height_m, field="height_m", unit="m", next_step="measure the frame")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure frame to subject")
    share(transmittance_ratio, field="transmittance_ratio")
    amount = 0.0
    for across, column_weight in places(-width_m / 2.0, width_m / 2.0):
        for along, row_weight in places(-height_m / 2.0, height_m / 2.0):
            from_lamp = lamp_distance_m * lamp_distance_m + across * across + along * along
            aside, above = across - right_m, along - up_m
            to_face = distance_m * distance_m + aside * aside + above * above
            cosines = lamp_distance_m / (from_lamp * math.sqrt(from_lamp))
            amount += column_weight * row_weight * cosines * distance_m * distance_m / (to_face * to_face)
    return intensity_cd * transmittance_ratio / math.pi * amount
