"""Fill from dressing: what a cloth, a chart or a table top sends up to a face.

Matt surfaces only; glass and varnish give a mirror image instead (reflections.py). The part of a
table under plates or in the performer's own shadow is left out by whoever measures it.
"""

import math

from .layers import return_gain
from .limits import above_zero, at_least_zero, finite, share, within


def _corner(forward_m: float, side_m: float, height_m: float) -> float:
    slant_m = math.sqrt(forward_m * forward_m + height_m * height_m)
    angle = math.atan2(side_m, height_m) - height_m / slant_m * math.atan2(side_m, slant_m)
    return angle / (2.0 * math.pi)


def tabletop_ratio(
    *, near_edge_m: float, far_edge_m: float, left_m: float, right_m: float, height_m: float
) -> float:
    """Return the share of what an upright face point sees that is table: its form factor.

    Args:
        near_edge_m: from below the face to the table's near edge [m]; behind the face counts as 0.
        far_edge_m: to the far edge [m], above near_edge_m.
        left_m: the table's reach to one side of the face [m]; below 0 when it ends before the face.
        right_m: its reach to the other side [m].
        height_m: face point above the table [m], above 0.
    Returns: form factor [ratio], 0 to 0.5.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [light-2], element to perpendicular rectangle

    >>> round(tabletop_ratio(near_edge_m=0.15, far_edge_m=1.05, left_m=0.75, right_m=0.75, height_m=0.45), 5)
    0.2312
    """
    finite(near_edge_m, field="near_edge_m", unit="m", next_step="measure from below the face")
    above_zero(height_m, field="height_m", unit="m", next_step="measure table to face")
    near_edge_m = max(0.0, near_edge_m)
    next_step = "measure both edges from below the face"
    above_zero(far_edge_m - near_edge_m, field="far_edge_m - near_edge_m", unit="m", next_step=next_step)
    above_zero(left_m + right_m, field="left_m + right_m", unit="m", next_step="measure the table's width")
    far = _corner(far_edge_m, right_m, height_m) - _corner(far_edge_m, -left_m, height_m)
    near = _corner(near_edge_m, right_m, height_m) - _corner(near_edge_m, -left_m, height_m)
    return far - near


def bounced_illuminance_lx(
    surface_lx: float, *, reflectance_ratio: float, form_factor_ratio: float, back_ratio: float = 0.0
) -> float:
    """Return the light that a lit matt surface sends to a point: E = r * E' * F; no pi in it.

    Args:
        surface_lx: light on the surface, meter lying on it [lx], 0 or more.
        reflectance_ratio: of the surface [ratio, 0 to 1].
        form_factor_ratio: share of the point's view that is the surface [ratio, 0 to 1].
        back_ratio: share that comes back from what faces it, reflectance times exchange both ways
            [ratio, 0 to under 1]; 0 when nothing bright does.
    Returns: illuminance at the point [lx].
    Raises: RuleError "not_a_number", "negative", "outside_range", "no_way_out".
    Source: [light-2], [light-7]

    >>> bounced_illuminance_lx(320.0, reflectance_ratio=0.75, form_factor_ratio=0.25)
    60.0
    """
    at_least_zero(surface_lx, field="surface_lx", unit="lx", next_step="lay the meter on the surface")
    share(reflectance_ratio, field="reflectance_ratio")
    share(form_factor_ratio, field="form_factor_ratio")
    share(back_ratio, field="back_ratio")
    gain = return_gain(reflectance_ratio=reflectance_ratio, behind_ratio=1.0, exchange_ratio=back_ratio)
    return reflectance_ratio * surface_lx * form_factor_ratio * gain


def bounce_luminance_cd_m2(surface_lx: float, *, reflectance_ratio: float) -> float:
    """Return the luminance of a lit matt surface: L = r * E / pi. A card is then a source.

    Args:
        surface_lx: light on the surface [lx], 0 or more.
        reflectance_ratio: of the surface [ratio, 0 to 1].
    Returns: luminance [cd/m2], for rectangle_illuminance_lx.
    Raises: RuleError "not_a_number", "negative", "outside_range".
    Source: [light-3]

    >>> round(bounce_luminance_cd_m2(100.0 * math.pi, reflectance_ratio=0.5), 6)
    50.0
    """
    at_least_zero(surface_lx, field="surface_lx", unit="lx", next_step="read the meter again")
    return share(reflectance_ratio, field="reflectance_ratio") * surface_lx / math.pi


def munsell_reflectance_ratio(munsell_value: float) -> float:
    """Return the reflectance of a Munsell value step, from a grey scale held to the cloth.

    Args:
        munsell_value: value step [no unit], 0 (black) to 10 (white).
    Returns: luminance factor against a perfect diffuser [ratio].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [bounce-1]

    >>> round(munsell_reflectance_ratio(5.0), 4)
    0.1927
    """
    next_step = "read the step off the grey scale"
    within(munsell_value, low=0, high=10, field="munsell_value", unit="", next_step=next_step)
    percent = 0.0
    for factor in (0.00081939, -0.020484, 0.23352, -0.22533, 1.1914, 0.0):
        percent = percent * munsell_value + factor
    return percent / 100.0
