"""How soft a source is: its apparent size on both axes, shadow edges, and wrap round a head.

Softness is an angle at the subject, not the size of a frame: only the lit part counts, and a
wide, low frame is soft sideways only. So each axis has its own figure.
"""

import math

from .limits import above_zero, at_least_zero, within


def apparent_size_deg(size_m: float, *, distance_m: float) -> float:
    """Return the angle that a source fills: 2 * atan(size / (2 * distance)).

    Args:
        size_m: width or height of the bright part [m], 0 or more.
        distance_m: from its plane to the subject [m], above 0.
    Returns: angle [deg], under 180.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [geometry-2]

    >>> round(apparent_size_deg(2.0, distance_m=1.0), 6)
    90.0
    """
    at_least_zero(size_m, field="size_m", unit="m", next_step="measure the lit part of the frame")
    above_zero(distance_m, field="distance_m", unit="m", next_step="measure frame to subject")
    return 2.0 * math.degrees(math.atan2(size_m, 2.0 * distance_m))


def same_softness_distance_m(size_m: float, *, other_size_m: float, other_distance_m: float) -> float:
    """Return where a source looks as large as another one: size over distance stays the same.

    At the same luminance both then give the same light.

    Args:
        size_m: width or height of the source to place [m], above 0.
        other_size_m: of the one to match [m], above 0.
        other_distance_m: its distance to the subject [m], above 0.
    Returns: distance [m].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [geometry-2]

    >>> same_softness_distance_m(3.0, other_size_m=1.5, other_distance_m=1.25)
    2.5
    """
    above_zero(size_m, field="size_m", unit="m", next_step="measure the lit part of the frame")
    above_zero(other_size_m, field="other_size_m", unit="m", next_step="measure the frame to match")
    above_zero(other_distance_m, field="other_distance_m", unit="m", next_step="measure frame to subject")
    return other_distance_m * size_m / other_size_m


def penumbra_m(*, source_size_m: float, source_to_edge_m: float, edge_to_surface_m: float) -> float:
    """Return how wide a shadow's edge is: source size * far distance / near distance.

    Args:
        source_size_m: size of the source across the edge [m], 0 or more.
        source_to_edge_m: source to the thing that casts the shadow [m], above 0.
        edge_to_surface_m: from there to the wall, face or table [m], 0 or more.
    Returns: width of the half shadow [m].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [geometry-3]

    >>> penumbra_m(source_size_m=1.5, source_to_edge_m=3.0, edge_to_surface_m=0.5)
    0.25
    """
    at_least_zero(source_size_m, field="source_size_m", unit="m", next_step="measure the lit part")
    next_step = "measure source to flag"
    above_zero(source_to_edge_m, field="source_to_edge_m", unit="m", next_step=next_step)
    next_step = "measure flag to surface"
    at_least_zero(edge_to_surface_m, field="edge_to_surface_m", unit="m", next_step=next_step)
    return source_size_m * edge_to_surface_m / source_to_edge_m


def umbra_m(
    strip_width_m: float, *, source_size_m: float, source_to_edge_m: float, edge_to_surface_m: float
) -> float:
    """Return the width of a strip's full shadow: W + (W - S) * far / near.

    Args:
        strip_width_m: width of the flag, arm or tube [m], 0 or more.
        source_size_m: size of the source across it [m], 0 or more.
        source_to_edge_m: source to strip [m], above 0.
        edge_to_surface_m: strip to surface [m], 0 or more.
    Returns: width [m]; below 0 there is no full shadow left.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [geometry-3]

    >>> umbra_m(0.25, source_size_m=1.25, source_to_edge_m=4.0, edge_to_surface_m=0.5)
    0.125
    """
    at_least_zero(strip_width_m, field="strip_width_m", unit="m", next_step="measure the flag")
    half_shadow_m = penumbra_m(
        source_size_m=source_size_m,
        source_to_edge_m=source_to_edge_m,
        edge_to_surface_m=edge_to_surface_m,
    )
    return strip_width_m + strip_width_m * edge_to_surface_m / source_to_edge_m - half_shadow_m


def umbra_ends_m(strip_width_m: float, *, source_size_m: float, source_to_edge_m: float) -> float | None:
    """Return how far behind a strip its full shadow ends: W * near / (S - W).

    Args:
        strip_width_m: width of the flag, arm or tube [m], above 0.
        source_size_m: size of the source across it [m], 0 or more.
        source_to_edge_m: source to strip [m], above 0.
    Returns: distance behind the strip [m]; None when the source is no wider: it never ends.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [geometry-3]

    >>> umbra_ends_m(0.25, source_size_m=1.25, source_to_edge_m=4.0)
    1.0
    """
    above_zero(strip_width_m, field="strip_width_m", unit="m", next_step="measure the flag")
    at_least_zero(source_size_m, field="source_size_m", unit="m", next_step="measure the lit part")
    above_zero(source_to_edge_m, field="source_to_edge_m", unit="m", next_step="measure source to flag")
    if source_size_m <= strip_width_m:
        return None
    return strip_width_m * source_to_edge_m / (source_size_m - strip_width_m)


def last_lit_deg(half_angle_deg: float) -> float:
    """Return how far round a head a distant source lights, from its direction: 90 + half angle.

    Args:
        half_angle_deg: half the apparent size of the source [deg], 0 to 90.
    Returns: angle from the source's direction [deg].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [geometry-3]

    >>> last_lit_deg(25.0)
    115.0
    """
    next_step = "half of the apparent size"
    within(half_angle_deg, low=0, high=90, field="half_angle_deg", unit="deg", next_step=next_step)
    return 90.0 + half_angle_deg


def fully_lit_to_deg(half_angle_deg: float) -> float:
    """Return how far round a head the whole of a distant source is seen: 90 - half angle.

    Args:
        half_angle_deg: half the apparent size of the source [deg], 0 to 90.
    Returns: angle from the source's direction [deg].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [geometry-3]

    >>> fully_lit_to_deg(25.0)
    65.0
    """
    return 180.0 - last_lit_deg(half_angle_deg)


def near_last_lit_deg(source_radius_m: float, *, distance_m: float, head_radius_m: float) -> float:
    """Return how far round a head a near source lights: atan2(a, D) + acos(R / sqrt(a2 + D2)).

    Less than for a distant source of the same apparent size: the head hides part of it.

    Args:
        source_radius_m: half the width or height of the source [m], 0 or more.
        distance_m: source to the middle of the head [m], above head_radius_m.
        head_radius_m: half the width of the head [m], above 0.
    Returns: angle from the source's direction [deg].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [geometry-3]

    >>> round(near_last_lit_deg(0.0, distance_m=2.0, head_radius_m=1.0), 6)
    60.0
    """
    at_least_zero(source_radius_m, field="source_radius_m", unit="m", next_step="half its width")
    above_zero(head_radius_m, field="head_radius_m", unit="m", next_step="about 0.09 m for a head")
    next_step = "measure to the middle of the head"
    within(distance_m, low=head_radius_m, high=1e6, field="distance_m", unit="m", next_step=next_step)
    edge_m = math.sqrt(source_radius_m * source_radius_m + distance_m * distance_m)
    return math.degrees(math.atan2(source_radius_m, distance_m) + math.acos(min(1.0, head_radius_m / edge_m)))


def wrap_ratio(*, half_angle_deg: float, from_source_deg: float) -> float:
    """Return the light on a matt head under an even round source, against the side that faces it.

    Up to 90 - a the cosine; between, the part of the source that stands above the horizon of that
    place; from 90 + a nothing.

    Args:
        half_angle_deg: half the apparent size of the source, a [deg], above 0 to under 90.
        from_source_deg: place on the head, from the source's direction [deg], 0 to 180.
    Returns: light over the light where the head faces the source [ratio].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [light-10]

    >>> round(wrap_ratio(half_angle_deg=20.0, from_source_deg=60.0), 6)
    0.5
    """
    next_step = "half of the apparent size"
    within(half_angle_deg, low=0.01, high=89.99, field="half_angle_deg", unit="deg", next_step=next_step)
    next_step = "from the source's direction"
    within(from_source_deg, low=0, high=180, field="from_source_deg", unit="deg", next_step=next_step)
    half, place = math.radians(half_angle_deg), math.radians(from_source_deg)
    if from_source_deg <= 90.0 - half_angle_deg:
        return math.cos(place)
    if from_source_deg >= 90.0 + half_angle_deg:
        return 0.0
    cotangent = math.cos(half) / math.sin(half)
    edge = max(-1.0, min(1.0, -cotangent * math.cos(place) / math.sin(place)))
    root = math.sqrt(1.0 - edge * edge)
    square = math.sin(half) * math.sin(half)
    lit = (math.cos(place) * math.acos(edge) - cotangent * math.sin(place) * root) * square
    lit += math.atan2(math.sin(place) * root, cotangent)
    return lit / (math.pi * square)
