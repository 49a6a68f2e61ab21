"""Too dark at full output: the ways out, ranked, with what each costs.

Each way says how many stops it gives, how much of that is needed, and its price in softness,
depth of field, noise and minutes. It ranks; a person chooses.
"""

import math

from .exposure import stop_difference_stops, stops_between
from .limits import above_zero, at_least_zero
from .rounding import compare
from .softness import apparent_size_deg

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


def _way(
    name: str, gain_stops: float, short_stops: float, minutes: float | None, cost: "dict[str, Any]"
) -> "dict[str, Any]":
    used = min(gain_stops, short_stops)
    return {
        "way": name,
        "gain_stops": gain_stops,
        "used_stops": used,
        "is_enough": compare(gain_stops, short_stops) >= 0,
        "minutes": minutes,
        "cost": cost,
    }


def opening_up(
    short_stops: float, *, stop: float, widest_stop: float, minutes: float | None = None
) -> "dict[str, Any]":
    """Return the way out of opening the lens: what it gives, and the depth of field it costs.

    Args:
        short_stops: how much light is missing [stop], above 0.
        stop: the stop now [T-stop], above 0.
        widest_stop: the widest of the lens [T-stop], above 0.
        minutes: what it takes [min]; None is not known.
    Returns: dict, keys way, gain_stops, used_stops [stop], is_enough, minutes [min], cost (dict, keys
        new_stop [T-stop] and depth_ratio: depth of field left, about as the stop numbers).
    Raises: RuleError "not_a_number", "not_positive".
    Source: [exposure-3], [lens-2]

    >>> opening_up(1.0, stop=4.0, widest_stop=2.0)["cost"]["depth_ratio"]
    0.7071067811865476
    """
    above_zero(short_stops, field="short_stops", unit="stop", next_step="nothing is missing")
    gain = max(0.0, stop_difference_stops(stop, reference=widest_stop))
    ratio = math.pow(2.0, -min(gain, short_stops) / 2.0)
    return _way("open_up", gain, short_stops, minutes, {"new_stop": stop * ratio, "depth_ratio": ratio})


def raising_index(
    short_stops: float, *, exposure_index: float, highest_index: float, minutes: float | None = None
) -> "dict[str, Any]":
    """Return the way out of raising the exposure index: what it gives, and the noise it costs.

    Args:
        short_stops: how much light is missing [stop], above 0.
        exposure_index: the index now [ISO], above 0.
        highest_index: the highest that the cinematographer accepts [ISO], above 0.
        minutes: what it takes [min]; None is not known.
    Returns: dict as opening_up; cost has keys new_index [ISO] and noise_stops (shadows that much nearer
        to the noise [stop]).
    Raises: RuleError "not_a_number", "not_positive".
    Source: [exposure-3]

    >>> raising_index(1.0, exposure_index=800.0, highest_index=3200.0)["cost"]["new_index"]
    1600.0
    """
    above_zero(short_stops, field="short_stops", unit="stop", next_step="nothing is missing")
    gain = max(0.0, stops_between(highest_index, reference=exposure_index))
    used = min(gain, short_stops)
    cost = {"new_index": exposure_index * math.pow(2.0, used), "noise_stops": used}
    return _way("raise_index", gain, short_stops, minutes, cost)


def changing_light(
    short_stops: float,
    *,
    way: str,
    level_lx: float,
    new_level_lx: float,
    source: dict[str, float] | None,
    new_source: dict[str, float] | None,
    minutes: float | None = None,
) -> "dict[str, Any]":
    """Return a way out that changes the light: moved in, a layer dropped, another lamp.

    Args:
        short_stops: how much light is missing [stop], above 0.
        way: its name: move_in, drop_layer, other_lamp (no unit).
        level_lx: typical level now [lx], above 0.
        new_level_lx: typical level after the change [lx], above 0.
        source: what the subject sees now, dict, keys width_m, height_m, distance_m [m]; None a bare lamp.
        new_source: the same after the change [m].
        minutes: what it takes [min]; None is not known.
    Returns: dict as opening_up; cost has keys width_change_deg and height_change_deg: how much larger
        (softer) or, below 0, smaller (harder) the source looks [deg]. A gain below 0 is no way out.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [exposure-3], [geometry-2]

    >>> changing_light(1.0, way="other_lamp", level_lx=100.0, new_level_lx=400.0, source=None, new_source=None)["gain_stops"]
    2.0
    """
    above_zero(short_stops, field="short_stops", unit="stop", next_step="nothing is missing")
    gain = stops_between(new_level_lx, reference=level_lx)
    cost = {
        "width_change_deg": _size_deg(new_source, "width_m") - _size_deg(source, "width_m"),
        "height_change_deg": _size_deg(new_source, "height_m") - _size_deg(source, "height_m"),
    }
    return _way(way, gain, short_stops, minutes, cost)


def _size_deg(source: dict[str, float] | None, side: str) -> float:
    return 0.0 if source is None else apparent_size_deg(source[side], distance_m=source["distance_m"])


def ranked(ways: "list[dict[str, Any]]") -> "list[dict[str, Any]]":
    """Return ways out in order: enough before not enough, then quicker, then more light, then name.

    Ways that give nothing are left out; a time that is not known comes after known ones.

    Args:
        ways: list of dict as opening_up, raising_index and changing_light return; gains [stop].
    Returns: the same dicts [stop, min], the first to consider first.
    Raises: RuleError "not_a_number", "negative".
    Source: [ways-1]

    >>> ways = [raising_index(1.0, exposure_index=800.0, highest_index=1000.0),
    ...     opening_up(1.0, stop=4.0, widest_stop=2.0)]
    >>> [way["way"] for way in ranked(ways)]
    ['open_up', 'raise_index']
    """
    useful = [way for way in ways if compare(way["gain_stops"], 0.0) > 0]
    for way in useful:
        if way["minutes"] is not None:
            at_least_zero(way["minutes"], field="minutes", unit="min", next_step="how long does it take?")
    return sorted(useful, key=_rank)


def _rank(way: "dict[str, Any]") -> "tuple[bool, bool, float, float, str]":
    minutes = way["minutes"]
    return (not way["is_enough"], minutes is None, minutes or 0.0, -way["gain_stops"], way["way"])
