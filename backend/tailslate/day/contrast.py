"""Contrast in words: key to fill at a point, each point against the key, and the spread over the points.

Knows no readings and no lamps, only levels. CO1 lux add, stops never do: (key + fill) : fill. CO2 a ratio of ranges is
a range.
"""

from tailslate.craft.contrast import contrast_ratio
from tailslate.craft.exposure import stops_between
from tailslate.craft.rounding import compare, decimal_text
from tailslate.day import names, shown, target

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.craft.ranges import Range
    from tailslate.day.gathered import Gathered

    Level = dict[str, Any]


ON_IT = shown.stops(0.0, 0.0)


def key_to_fill(summed: "dict[str, Level]", records: "Gathered") -> "dict[str, Any] | None":
    """Return the contrast at the first point that has a key and a fill, None when there is none.

    Args:
        summed: "point role" to level, with its level_lx (range [lx] or None).
        records: the points.
    Returns: dict, keys kind, shown, line, point, low and high (to 1; None when not known), was ("" or the contrast
        before the last change).
    """
    points = sorted(
        [one["point"] for one in summed.values() if one["role"] == "key" and one["point"] + " fill" in summed]
    )
    if not points:
        return None
    key, fill = summed[points[0] + " key"], summed[points[0] + " fill"]
    said = "(key + fill) : fill, at " + names.name_of(points[0], records)
    if fill["kind"] == "range" and fill["lacks_bounce"]:
        said += ", fill without the bounce of dressing"
    ends = of_levels(key, fill)
    made: dict[str, Any] = {"point": points[0], "low": None, "high": None, "was": ""}
    if ends is None:
        lacking = key if not is_light(key) else fill
        made.update({"kind": "unknown", "shown": shown.NOT_KNOWN})
        made["line"] = said + ". " + lacking["title"] + ": " + lacking["line"]
        return made
    is_read = key["kind"] == "reading" and fill["kind"] == "reading"
    made.update({"kind": "reading" if is_read else "range", "shown": ratio_words(ends[0], ends[1])})
    made.update({"line": said + (", read" if is_read else ", worked out"), "low": ends[0], "high": ends[1]})
    return made


def is_light(level: "Level") -> bool:
    """Tell whether a level is known, as light or as a stop, and not dark."""
    found = level["level_lx"] or level["of_stop"]
    return bool(found) and found["low"] >= target.DARKEST_LX


def of_levels(key: "Level", fill: "Level") -> "tuple[float, float] | None":
    """Return the contrast of two levels, low and high, None when either is not known or dark."""
    for name in ("level_lx", "of_stop"):
        if key[name] and fill[name]:
            return of_ranges(key[name], fill[name])
    return None


def of_ranges(key: "Range", fill: "Range") -> "tuple[float, float] | None":
    """Return the contrast of two ranges in one unit, low and high, None in the dark."""
    if key["low"] < target.DARKEST_LX or fill["low"] < target.DARKEST_LX:
        return None
    low = contrast_ratio(key["low"], fill_lx=fill["high"])
    return low, contrast_ratio(key["high"], fill_lx=fill["low"])


def ratio_words(low: float, high: float) -> str:
    """Return a contrast as people write it: "4 : 1", "8 to 10 : 1"."""
    first, last = _ratio_text(low), _ratio_text(high)
    return (first if first == last else first + " to " + last) + " : 1"


def _ratio_text(ratio: float) -> str:
    text = decimal_text(ratio, 1 if compare(ratio, 9.95) < 0 else 0)
    return text[:-2] if text.endswith(".0") else text


def against_key(levels: "list[Level]") -> None:
    """Add to each level how far it lies from the key: key from_key (dict, keys shown, low, high; None when not known).

    Args:
        levels: the levels of a shot, the first key first.
    """
    keys = [one for one in levels if one["role"] == "key"]
    for one in levels:
        one["from_key"] = None
        if keys and one is not keys[0]:
            one["from_key"] = _against(one, keys[0])


def _against(one: "Level", key: "Level") -> "dict[str, Any] | None":
    for name in ("level_lx", "of_stop"):
        light, other = one[name], key[name]
        if light and other and light["low"] >= target.DARKEST_LX and other["low"] >= target.DARKEST_LX:
            low = stops_between(light["low"], reference=other["high"])
            high = stops_between(light["high"], reference=other["low"])
            words = shown.stops(low, high)
            words = "level with the key" if words == ON_IT else words + " the key"
            return {"shown": words, "low": low, "high": high}
    return None


def spread(levels: "list[Level]") -> "dict[str, Any] | None":
    """Return how far the brightest point lies over the darkest, None with fewer than two points that are known.

    Args:
        levels: the levels of a shot; of a point with several roles the one of all light counts.
    Returns: dict, keys shown, low, high [stop], brightest, darkest (titles of levels), line.
    """
    found = _known(levels, "level_lx")
    if len(found) < 2:  # a meter read as stops is enough
        found = _known(levels, "of_stop")
    if len(found) < 2:
        return None
    (_least, _point, darkest, dark), (_most, _other, brightest, bright) = found[0], found[-1]
    low = max(0.0, stops_between(bright["low"], reference=dark["high"]))
    high = stops_between(bright["high"], reference=dark["low"])
    first, last = decimal_text(low, 1), decimal_text(high, 1)
    words = (first if first == last else first + " to " + last) + (" stop" if last == "1.0" else " stops")
    line = "from " + darkest["title"] + " to " + brightest["title"]
    made = {"shown": words, "low": low, "high": high, "line": line}
    made.update({"brightest": brightest["title"], "darkest": darkest["title"]})
    return made


def _known(levels: "list[Level]", unit: str) -> "list[tuple[float, str, Level, Range]]":
    """Return one level of each point that is known in a unit, with its light there, the darkest first."""
    by_point: dict[str, Level] = {}
    for one in levels:
        if one["point"] and one[unit] and one[unit]["low"] >= target.DARKEST_LX:
            if one["role"] == "all" or one["point"] not in by_point:
                by_point[one["point"]] = one
    return sorted(
        [(one[unit]["typical"], point, one, one[unit]) for point, one in by_point.items()], key=_dark
    )


def _dark(one: "tuple[float, str, Level, Range]") -> "tuple[float, str]":
    return one[:2]
