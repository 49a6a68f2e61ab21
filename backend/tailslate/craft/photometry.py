"""Illuminance from bare lamps and from evenly bright surfaces, at any place and facing.

A source hangs at the origin and shines forward (see vectors.py). A receiver at (right, up,
distance) faces back at it when its pan and tilt are 0. Bright surfaces are Lambertian and
even; the part of one that lies under the receiver's own horizon is cut away first.
"""

import math

from .limits import above_zero, at_least_zero, share, within
from .vectors import cross, dot, length, minus, turned

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .vectors import Vector

FAR_FIELD_SIDES = 5.0  # distances per widest side from which a lamp counts as a point [light-4]


def point_illuminance_lx(intensity_cd: float, *, distance_m: float, incidence_deg: float = 0.0) -> float:
    """Return the light from a small lamp: E = I * cos(incidence) / d**2.

    Holds when the lamp is small against the distance (see far_field_starts_m).

    Args:
        intensity_cd: intensity towards the receiver [cd], 0 or more.
        distance_m: lamp to receiver along the ray [m], above 0.
        incidence_deg: from the receiver's normal to the ray [deg], 0 to 180; 90 and more gives 0.
    Returns: illuminance [lx].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [light-1]

    >>> point_illuminance_lx(48000.0, distance_m=4.0)
    3000.0
    """
    at_least_zero(intensity_cd, field="intensity_cd", unit="cd", next_step="read it off the lamp's sheet")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure along the beam")
    next_step = "measure it from the surface's normal"
    within(incidence_deg, low=0, high=180, field="incidence_deg", unit="deg", next_step=next_step)
    if incidence_deg >= 90:
        return 0.0
    return intensity_cd * math.cos(math.radians(incidence_deg)) / (distance_m * distance_m)


def intensity_from_reading_cd(illuminance_lx: float, *, distance_m: float) -> float:
    """Return the intensity that a reading in the beam implies: I = E * d**2.

    Args:
        illuminance_lx: reading with the receptor pointed at the lamp [lx], 0 or more.
        distance_m: lamp to receptor [m], above 0.
    Returns: intensity along that ray [cd].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [light-1]

    >>> intensity_from_reading_cd(3000.0, distance_m=4.0)
    48000.0
    """
    at_least_zero(illuminance_lx, field="illuminance_lx", unit="lx", next_step="read the meter again")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure lamp to meter")
    return illuminance_lx * distance_m * distance_m


def far_field_starts_m(*, widest_side_m: float) -> float:
    """Return the distance from which a source may be treated as a point.

    At five times its widest side a disk is 1 % under its inverse-square value.

    Args:
        widest_side_m: the largest dimension of the bright surface [m], 0 or more.
    Returns: distance [m].
    Raises: RuleError "not_a_number", "negative".
    Source: [light-4]

    >>> far_field_starts_m(widest_side_m=1.5)
    7.5
    """
    at_least_zero(widest_side_m, field="widest_side_m", unit="m", next_step="measure the bright surface")
    return FAR_FIELD_SIDES * widest_side_m


def disk_illuminance_lx(luminance_cd_m2: float, *, radius_m: float, distance_m: float) -> float:
    """Return the light on the axis of an even disk: E = pi * L * r**2 / (r**2 + d**2).

    Args:
        luminance_cd_m2: luminance of the disk [cd/m2], 0 or more.
        radius_m: its radius [m], above 0.
        distance_m: from its centre along the axis [m], above 0.
    Returns: illuminance on a surface parallel to the disk [lx].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [light-2], B-3 family

    >>> disk_illuminance_lx(1000.0 / math.pi, radius_m=1.0, distance_m=1.0)
    500.0
    """
    at_least_zero(luminance_cd_m2, field="luminance_cd_m2", unit="cd/m2", next_step="measure it again")
    above_zero(radius_m, field="radius_m", unit="m", next_step="measure the bright disk")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the disk's centre")
    area = radius_m * radius_m
    return math.pi * luminance_cd_m2 * area / (area + distance_m * distance_m)


def sheet_luminance_cd_m2(illuminance_lx: float, *, transmittance_ratio: float) -> float:
    """Return the luminance of an evenly lit, evenly scattering sheet: L = t * E / pi.

    Args:
        illuminance_lx: light on its lamp side [lx], 0 or more.
        transmittance_ratio: share that comes out on the far side [ratio, 0 to 1].
    Returns: luminance of the far side [cd/m2].
    Raises: RuleError "not_a_number", "negative", "outside_range".
    Source: [light-3]

    >>> round(sheet_luminance_cd_m2(1000.0 * math.pi, transmittance_ratio=0.5), 6)
    500.0
    """
    at_least_zero(illuminance_lx, field="illuminance_lx", unit="lx", next_step="read the meter again")
    return share(transmittance_ratio, field="transmittance_ratio") * illuminance_lx / math.pi


def _above_horizon(corners: "list[Vector]", normal: "Vector") -> "list[Vector]":
    """Return the part of a polygon, seen from the origin, on normal's side (Sutherland-Hodgman)."""
    kept: list[Vector] = []
    heights = [dot(corner, normal) for corner in corners]
    for index, corner in enumerate(corners):
        height, before_height = heights[index], heights[index - 1]
        if (height > 0) != (before_height > 0):
            before = corners[index - 1]
            step = before_height / (before_height - height)
            edge = minus(corner, before)
            kept.append((before[0] + step * edge[0], before[1] + step * edge[1], before[2] + step * edge[2]))
        if height > 0:
            kept.append(corner)
    return kept


def polygon_illuminance_lx(
    luminance_cd_m2: float, *, corners: "list[Vector]", receiver: "Vector", normal: "Vector"
) -> float:
    """Return the light from an even flat polygon by Lambert's contour sum, horizon cut away.

    E = L / 2 * sum(angle of each edge * (edge's unit normal . receiver's normal)).

    Args:
        luminance_cd_m2: luminance of the polygon [cd/m2], 0 or more; it shines to both sides.
        corners: its corners in order round the edge [m], three or more, convex.
        receiver: the point that is lit [m], not in the polygon's plane.
        normal: unit vector along which the receiver faces [m].
    Returns: illuminance [lx].
    Raises: RuleError "not_a_number", "negative".
    Source: [light-5]

    >>> square = [(-1.0, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0, 0.0), (-1.0, 1.0, 0.0)]
    >>> round(polygon_illuminance_lx(1.0, corners=square, receiver=(0.0, 0.0, 1.0), normal=(0.0, 0.0, -1.0)), 4)
    1.7408
    """
    at_least_zero(luminance_cd_m2, field="luminance_cd_m2", unit="cd/m2", next_step="measure it again")
    seen = _above_horizon([minus(corner, receiver) for corner in corners], normal)
    amount = 0.0
    for index, corner in enumerate(seen):
        edge_normal = cross(seen[index - 1], corner)
        size = length(edge_normal)
        if size > 0.0:
            amount += math.atan2(size, dot(seen[index - 1], corner)) * dot(edge_normal, normal) / size
    return luminance_cd_m2 * abs(amount) / 2.0


def facing(pan_deg: float, tilt_deg: float) -> "Vector":
    """Return the unit vector of a receiver that looks back at the source, then pans and tilts.

    Args:
        pan_deg: turn to the receiver's own right [deg].
        tilt_deg: turn upwards [deg]; 90 is a table top.
    Returns: unit vector [m].
    Raises: nothing.
    Source: [geometry-1]

    >>> facing(0.0, 0.0)
    (-0.0, 0.0, -1.0)
    """
    right, up, forward = turned((0.0, 0.0, 1.0), pan_deg=pan_deg, tilt_deg=tilt_deg)
    return (-right, up, -forward)


def rectangle_illuminance_lx(
    luminance_cd_m2: float,
    *,
    width_m: float,
    height_m: float,
    distance_m: float,
    right_m: float = 0.0,
    up_m: float = 0.0,
    pan_deg: float = 0.0,
    tilt_deg: float = 0.0,
) -> float:
    """Return the light from an even rectangle, on or off its axis, at any facing.

    Args:
        luminance_cd_m2: luminance of the rectangle [cd/m2], 0 or more.
        width_m: bright width [m], above 0.
        height_m: bright height [m], above 0.
        distance_m: from the rectangle's plane to the receiver, square to the plane [m], above 0.
        right_m: how far the receiver stands to the right of the axis, seen along the beam [m].
        up_m: how far it is above the axis [m].
        pan_deg: how far it turns from facing the plane, to its own right [deg].
        tilt_deg: how far it turns upwards; 90 is a table top [deg].
    Returns: illuminance [lx].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [light-5]; for a parallel receiver equal to [light-2], B-4 family

    >>> round(rectangle_illuminance_lx(1.0, width_m=2.0, height_m=2.0, distance_m=1.0), 4)
    1.7408
    """
    above_zero(width_m, field="width_m", unit="m", next_step="measure the lit part of the frame")
    above_zero(height_m, field="height_m", unit="m", next_step="measure the lit part of the frame")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the frame")
    half_width, half_height = width_m / 2.0, height_m / 2.0
    corners: list[Vector] = [
        (-half_width, -half_height, 0.0),
        (half_width, -half_height, 0.0),
        (half_width, half_height, 0.0),
        (-half_width, half_height, 0.0),
    ]
    return polygon_illuminance_lx(
        luminance_cd_m2,
        corners=corners,
        receiver=(right_m, up_m, distance_m),
        normal=facing(pan_deg, tilt_deg),
    )


def regular_polygon_illuminance_lx(
    luminance_cd_m2: float,
    *,
    side_count: int,
    corner_radius_m: float,
    distance_m: float,
    right_m: float = 0.0,
    up_m: float = 0.0,
    pan_deg: float = 0.0,
    tilt_deg: float = 0.0,
) -> float:
    """Return the light from an even regular polygon (a soft box or an umbrella with eight ribs).

    Args:
        luminance_cd_m2: luminance [cd/m2], 0 or more.
        side_count: number of sides (a count), 3 to 64.
        corner_radius_m: centre to corner [m], above 0.
        distance_m: from its plane to the receiver, square to the plane [m], above 0.
        right_m: how far the receiver stands to the right of the axis, seen along the beam [m].
        up_m: how far it is above the axis [m].
        pan_deg: how far it turns from facing the plane, to its own right [deg].
        tilt_deg: how far it turns upwards [deg].
    Returns: illuminance [lx].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [light-5]

    >>> even = regular_polygon_illuminance_lx(1.0, side_count=4, corner_radius_m=math.sqrt(2.0), distance_m=1.0)
    >>> round(even, 4)
    1.7408
    """
    within(side_count, low=3, high=64, field="side_count", unit="sides", next_step="count the ribs")
    above_zero(corner_radius_m, field="corner_radius_m", unit="m", next_step="measure centre to corner")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure from the source's front")
    corners: list[Vector] = []
    for index in range(side_count):
        turn = 2.0 * math.pi * (index + 0.5) / side_count
        corners.append((corner_radius_m * math.cos(turn), corner_radius_m * math.sin(turn), 0.0))
    return polygon_illuminance_lx(
        luminance_cd_m2,
        corners=corners,
        receiver=(right_m, up_m, distance_m),
        normal=facing(pan_deg, tilt_deg),
    )
