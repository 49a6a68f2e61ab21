"""A pickup beside the shot that it must cut with: point by point what differs, by how much, and what is let pass.

Knows two sheets and no files. T1 what is not known on either side never matches. T2 a range matches only when both
its ends do; it differs only when all of it does; between, it may differ. T3 the tolerance stands beside every word.
T4 within a day a light's direction is compared in the room: a camera on the other side sees the same light from the
other hand. Between two days the room was measured anew, and what the camera sees is compared. Of the two faces of a
pair it is enough that they are lit as mirror images, as two cameras on one side of the eyeline see them.
"""

from tailslate.craft.errors import RuleError
from tailslate.craft.exposure import exposure_time_s, stop_difference_stops, stops_between
from tailslate.craft.rounding import compare, decimal_text
from tailslate.craft.units import mired_from_k
from tailslate.day import colour, direction, kinds, names, shown
from tailslate.day.gathered import kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Sheet = dict[str, Any]
    Point = dict[str, Any]

MATCHES, DIFFERS, MAY_DIFFER, UNKNOWN = "matches", "differs", "may_differ", "unknown"
WORDS = {MATCHES: "matches", DIFFERS: "DIFFERS", MAY_DIFFER: "may differ", UNKNOWN: "NOT KNOWN"}
STOPS = (
    0.3  # [stop]: a third of a stop is what a lens ring and a dimmer are set to; common practice, no source
)
LENGTH_RATIO = 0.02  # [ratio]: of a lens or a camera's distance; common practice, no source
HEIGHT_M = 0.05  # [m]: common practice, no source
ANGLE_DEG = 2.0  # [deg]: common practice, no source
DIRECTION_DEG = 15.0  # [deg]: a shadow that moves by less is not seen over a cut; common practice, no source
EXACT = "the same"


def of_shots(now: "tuple[Sheet, Gathered]", then: "tuple[Sheet, Gathered]") -> "dict[str, Any]":
    """Return how a shot stands beside an earlier one.

    Args:
        now: sheet of the pickup, as sheet.of_shot gives it, with the records that it was made from.
        then: the same of the shot that it must cut with.
    Returns: dict, keys now and then (number and title), points (list of dict, keys about, now, then, state, word,
        difference, tolerance), sentence.
    """
    points = _camera(now, then) + _levels(now, then) + _ratio(now[0], then[0]) + _colours(now, then)
    return {
        "now": _named(now[0]),
        "then": _named(then[0]),
        "points": points,
        "sentence": _sentence(points),
    }


def _named(sheet: "Sheet") -> str:
    name: str = sheet["shot"]["number"] + " " + sheet["shot"]["title"]
    return name.strip()


def _sentence(points: "list[Point]") -> str:
    said = []
    for state, word in (
        (DIFFERS, "differ"),
        (MAY_DIFFER, "may differ"),
        (UNKNOWN, "not known"),
        (MATCHES, "match"),
    ):
        count = len([one for one in points if one["state"] == state])
        if count:
            said.append(str(count) + " " + word)
    return ", ".join(said) + ". A frame of each beside the other decides"


def _point(about: str, now: str, then: str, **more: "Any") -> "Point":
    made: Point = {
        "about": about,
        "now": now,
        "then": then,
        "state": UNKNOWN,
        "difference": "",
        "tolerance": "",
    }
    made.update(more)
    made["word"] = WORDS[made["state"]]
    return made


def state_of(low: float, high: float, tolerance: float) -> str:
    """Return whether a difference is let pass: matches, differs or may_differ.

    Args:
        low: lower end of the difference, in any unit.
        high: upper end of the difference, in the same unit.
        tolerance: what is let pass either way, in the same unit, 0 or more.

    >>> state_of(-0.1, 0.2, 0.3), state_of(0.4, 0.9, 0.3), state_of(0.1, 0.9, 0.3)
    ('matches', 'differs', 'may_differ')
    """
    if compare(low, -tolerance) >= 0 and compare(high, tolerance) <= 0:
        return MATCHES
    if compare(low, tolerance) > 0 or compare(high, -tolerance) < 0:
        return DIFFERS
    return MAY_DIFFER


def _off(low: float, high: float, digits: int, more: str, less: str, unit: str) -> str:
    """Return a difference in words: "0.4 to 0.9 stops more"."""
    first, last = decimal_text(low, digits), decimal_text(high, digits)
    zero = decimal_text(0.0, digits)
    if first in (zero, "-" + zero):
        first = zero
    if last in (zero, "-" + zero):
        last = zero
    if first == last:
        if first == zero:
            return "none"
        return first.replace("-", "") + shown.HARD_SPACE + unit + " " + (less if first[0] == "-" else more)
    if last[0] == "-" or (last == zero and first[0] == "-"):
        return last.replace("-", "") + " to " + first[1:] + shown.HARD_SPACE + unit + " " + less
    if first[0] == "-":
        return first[1:] + " " + less + " to " + last + " " + more + ", " + unit
    return first + " to " + last + shown.HARD_SPACE + unit + " " + more


def _compared(
    about: str, words: "tuple[str, str]", ends: "tuple[float, float]", how: "tuple[Any, ...]"
) -> "Point":
    """Return a point whose difference is known; `how` is tolerance, digits, more, less, unit."""
    tolerance, digits, more, less, unit = how
    low, high = ends
    return _point(
        about,
        words[0],
        words[1],
        state=state_of(low, high, tolerance),
        difference=_off(low, high, digits, more, less, unit),
        tolerance="within " + decimal_text(tolerance, digits) + shown.HARD_SPACE + unit,
    )


# Fields of the camera: how they are compared.
_SHOT_FIELDS = (
    ("t_stop", "stop"),
    ("exposure_index", "index"),
    ("frame_rate_per_s", "exact"),
    ("shutter_angle_deg", "exact"),
    ("calibration_constant", "exact"),
)
_SETUP_FIELDS = (
    ("lens_mm", "length"),
    ("sensor_width_mm", "exact"),
    ("sensor_height_mm", "exact"),
    ("squeeze_ratio", "exact"),
    ("camera_height_m", "height"),
    ("camera_distance_m", "length"),
    ("tilt_deg", "angle"),
)


def _camera(now: "tuple[Sheet, Gathered]", then: "tuple[Sheet, Gathered]") -> "list[Point]":
    shots = (now[0]["shot"]["record"], then[0]["shot"]["record"])
    setups = (now[1].target(shots[0], "setup"), then[1].target(shots[1], "setup"))
    points = [_field(field, how, shots, now[1], then[1]) for field, how in _SHOT_FIELDS]
    points.append(_exposure_time(shots, now[1], then[1]))
    asked = [_field(field, how, setups, now[1], then[1], kind="setup") for field, how in _SETUP_FIELDS]
    lens = ("lens_mm", "camera_height_m", "camera_distance_m")
    labels = [_label("setup", field) for field in lens]
    # what neither side ever said of the rest is no point of the match
    points += [
        one for one in asked if one["about"] in labels or one["now"] != one["then"] or one["state"] != UNKNOWN
    ]
    return points


def _label(kind: str, field: str) -> str:
    known = kinds.field_of(kind, field)
    return known.label if known else field


def _is_split(key: str, field: str, records: "Gathered") -> bool:
    values = []
    for entry in (records.cell(key, field) or [0, []])[1] if key else []:
        value = kinds.comparable(kind_of(key), field, entry[1])
        if value not in values:
            values.append(value)
    return len(values) > 1


def _field(
    field: str, how: str, keys: "tuple[str, str]", now: "Gathered", then: "Gathered", *, kind: str = "shot"
) -> "Point":
    about, numbers, words = _label(kind, field), [], []
    split = False
    for key, records in ((keys[0], now), (keys[1], then)):
        held = records.value(key, field) if key else None
        whole = records.whole(key, field) if key else None
        number = records.number(key, field) if key else None
        numbers.append(number if whole is None else whole * 1.0)
        words.append(names.value_words(key, field, held, records) if key else shown.NOT_KNOWN)
        if _is_split(key, field, records):
            split = True
            words[-1] += ", two answers"
    if split or numbers[0] is None or numbers[1] is None:
        return _point(about, words[0], words[1])
    return _of_numbers(about, how, (words[0], words[1]), (numbers[0], numbers[1]))


def _of_numbers(about: str, how: str, words: "tuple[str, str]", numbers: "tuple[float, float]") -> "Point":
    new, old = numbers
    if how in ("stop", "index") and new > 0 and old > 0:
        if how == "stop":
            off = stop_difference_stops(new, reference=old)
            return _compared(about, words, (off, off), (STOPS, 1, "closed", "opened", "stops"))
        off = stops_between(new, reference=old)
        return _compared(about, words, (off, off), (0.0, 1, "faster: grain and noise", "slower", "stops"))
    off = new - old
    if how == "length" and old > 0:
        share = 100.0 * off / old
        return _compared(about, words, (share, share), (100.0 * LENGTH_RATIO, 1, "longer", "shorter", "%"))
    if how == "height":
        return _compared(about, words, (off, off), (HEIGHT_M, 2, "higher", "lower", "m"))
    if how == "angle":
        return _compared(about, words, (off, off), (ANGLE_DEG, 1, "up", "down", "deg"))
    is_same = compare(new, old) == 0
    return _point(about, words[0], words[1], state=MATCHES if is_same else DIFFERS, tolerance=EXACT)


def _exposure_time(shots: "tuple[str, str]", now: "Gathered", then: "Gathered") -> "Point":
    """Return how the time of one frame compares: it is blur, and light."""
    times = []
    for key, records in ((shots[0], now), (shots[1], then)):
        angle, rate = records.number(key, "shutter_angle_deg"), records.number(key, "frame_rate_per_s")
        try:
            times.append(
                None if angle is None or rate is None else exposure_time_s(angle, frame_rate_per_s=rate)
            )
        except RuleError:
            times.append(None)
    words = [shown.NOT_KNOWN if one is None else "1/" + decimal_text(1.0 / one, 1) + " s" for one in times]
    if times[0] is None or times[1] is None:
        return _point("time of one frame", words[0], words[1])
    off = stops_between(times[0], reference=times[1])
    how = (0.1, 1, "longer", "shorter", "stops")
    return _compared("time of one frame", (words[0], words[1]), (off, off), how)


def _levels(now: "tuple[Sheet, Gathered]", then: "tuple[Sheet, Gathered]") -> "list[Point]":
    """Return the levels, each from its own shot's stop: that is how dark it is recorded; and where the light is from."""
    left = then[0]["light"]["levels"]
    pairs: list[tuple[Any, Any]] = []
    for one in now[0]["light"]["levels"]:
        pairs.append((one, _same_level(one, left)))
        left = [rest for rest in left if rest is not pairs[-1][1]]
    for place, (one, other) in enumerate(pairs):
        if other is None:  # the other face of the pair: what must cut is how each is lit
            pairs[place] = (one, _alike(one, left, now[1], then[1]))
            left = [rest for rest in left if rest is not pairs[place][1]]
    points = []
    is_same_room = now[1].of_kind("day") == then[1].of_kind("day")
    ways = (
        direction.of_shot(now[0]["shot"]["record"], now[1]),
        direction.of_shot(then[0]["shot"]["record"], then[1]),
    )
    for one, other in pairs + [(None, one) for one in left]:
        shown_one = one or other
        about = shown_one["title"]
        if one and other and one["title"] != other["title"]:
            about += ", beside " + other["title"]
        points.append(_level(about, one, other))
        lit = [way.get(_group(each)) for way, each in zip(ways, (one, other))]
        points += _directions(about, lit, is_same_room, about != shown_one["title"])
    return points


def _group(level: "dict[str, Any] | None") -> "tuple[str, str]":
    return (level["point"], level["role"]) if level else ("", "")


def _directions(about: str, ways: "list[Any]", is_same_room: bool, is_pair: bool) -> "list[Point]":
    """Return how the directions of a light compare, where there is such a light on both sides: around, and up."""
    if not ways[0] or not ways[1]:
        return []
    new, old = ways
    offs: list[tuple[str, Any]] = []
    if is_same_room:
        offs.append(("", _turn(new[direction.ROOM], old[direction.ROOM])))
    elif not is_pair:
        offs.append(("", _turn(new[direction.CAMERA], old[direction.CAMERA])))
    if is_pair:
        offs.append((", as a mirror image", _turn(new[direction.CAMERA], _mirrored(old[direction.CAMERA]))))
    told = (_around(new, is_same_room), _around(old, is_same_room))
    title = about + ", direction"
    how = (DIRECTION_DEG, 0, "to the right", "to the left", "deg")
    found = []
    for words, off in offs:
        if off:
            one = _compared(title, told, off, how)
            one["difference"] += words
            found.append(one)
    best = [one for state in (MATCHES, MAY_DIFFER, DIFFERS) for one in found if one["state"] == state]
    points = best[:1] or [_point(title, told[0], told[1])]
    up = [direction.words(direction.HEIGHT, one[direction.HEIGHT], shown.NOT_KNOWN) for one in ways]
    title += " " + direction.HEIGHT
    off = _turn(new[direction.HEIGHT], old[direction.HEIGHT])
    how = (DIRECTION_DEG, 0, "higher", "lower", "deg")
    points.append(_compared(title, (up[0], up[1]), off, how) if off else _point(title, up[0], up[1]))
    return points


def _turn(new: "direction.Ends | None", old: "direction.Ends | None") -> "direction.Ends | None":
    return direction.difference_deg(new, old) if new and old else None


def _mirrored(ends: "direction.Ends | None") -> "direction.Ends | None":
    return (-ends[1], -ends[0]) if ends else None


def _around(way: "dict[str, Any]", is_same_room: bool) -> str:
    """Return a direction in words, what is compared first: "90 deg right in the room, 90 deg left as the camera sees it"."""
    names_of = (direction.ROOM, direction.CAMERA) if is_same_room else (direction.CAMERA, direction.ROOM)
    told = [direction.words(name, way[name], "") + " " + name for name in names_of if way[name]]
    return ", ".join(told) or shown.NOT_KNOWN


def _same_level(one: "dict[str, Any]", others: "list[dict[str, Any]]") -> "dict[str, Any] | None":
    """Return the level of the same role at the point of the same name; else at the same point."""
    for same in ("title", "point"):
        for other in others:
            if other["role"] == one["role"] and other[same] == one[same]:
                return other
    return None


def _alike(
    one: "dict[str, Any]", others: "list[dict[str, Any]]", now: "Gathered", then: "Gathered"
) -> "dict[str, Any] | None":
    """Return the only other of the same role at a point of the same type, such as the other face."""
    type_now = now.text(one["point"], "type")
    found = [other for other in others if other.get("role") == one.get("role")]
    found = [other for other in found if then.text(other["point"], "type") == type_now]
    return found[0] if len(found) == 1 and type_now not in ("", "other") else None


def _level_words(one: "dict[str, Any] | None") -> str:
    if one is None:
        return "not there"
    told = [one[part]["shown"] for part in ("stops", "lux") if one[part]]
    words = ", ".join(told) or shown.NOT_KNOWN
    return words + (", read" if one["kind"] == "reading" else ", worked out" if told else "")


def _level(about: str, now: "dict[str, Any] | None", then: "dict[str, Any] | None") -> "Point":
    words = (_level_words(now), _level_words(then))
    if now is None or then is None:
        return _point(
            about, words[0], words[1], state=DIFFERS, tolerance="within " + decimal_text(STOPS, 1) + " stops"
        )
    if not now["stops"] or not then["stops"]:
        return _point(about, words[0], words[1])
    low = now["stops"]["low"] - then["stops"]["high"]
    high = now["stops"]["high"] - then["stops"]["low"]
    return _compared(about, words, (low, high), (STOPS, 1, "more", "less", "stops"))


def _ratio(now: "Sheet", then: "Sheet") -> "list[Point]":
    about = "contrast, (key + fill) : fill"
    ratios = (now["light"]["key_to_fill"], then["light"]["key_to_fill"])
    if not ratios[0] and not ratios[1]:
        return []
    words = [one["shown"] if one else "no key and fill at one point" for one in ratios]
    if not ratios[0] or not ratios[1] or not ratios[0]["low"] or not ratios[1]["low"]:
        return [_point(about, words[0], words[1])]
    low = stops_between(ratios[0]["low"], reference=ratios[1]["high"])
    high = stops_between(ratios[0]["high"], reference=ratios[1]["low"])
    return [_compared(about, (words[0], words[1]), (low, high), (STOPS, 1, "harder", "flatter", "stops"))]


def _colours(now: "tuple[Sheet, Gathered]", then: "tuple[Sheet, Gathered]") -> "list[Point]":
    """Return the colours in mired: what is balanced for, and the mix at each point."""
    here, there = now[0]["light"]["colour"], then[0]["light"]["colour"]
    points = [_colour("colour that the shot is balanced for", here["reference"], there["reference"])]
    left = there["points"]
    alone = []
    for one in here["points"]:
        found = [other for other in left if other["title"] == one["title"]]
        found = found or [other for other in left if other["point"] == one["point"]]
        left = [rest for rest in left if not found or rest is not found[0]]
        if found:
            points += _colour_and_tint(one["title"], one, found[0])
        else:
            alone.append(one)
    for one in alone:
        other = _alike(one, left, now[1], then[1])
        left = [rest for rest in left if rest is not other]
        title = one["title"] + (", beside " + other["title"] if other else "")
        points += _colour_and_tint(title, one, other)
    for one in left:
        points += _colour_and_tint(one["title"], None, one)
    return points


def _colour_and_tint(
    title: str, now: "dict[str, Any] | None", then: "dict[str, Any] | None"
) -> "list[Point]":
    made = [_colour("colour at " + title, now, then)]
    if now and then and (now["duv"] is not None or then["duv"] is not None):
        words = [
            shown.NOT_KNOWN if one["duv"] is None else decimal_text(one["duv"], 4) for one in (now, then)
        ]
        if now["duv"] is None or then["duv"] is None:
            made.append(_point("tint at " + title, words[0], words[1]))
        else:
            off = now["duv"] - then["duv"]
            how = (colour.VISIBLE_DUV, 4, "greener", "more magenta", "Duv")
            made.append(_compared("tint at " + title, (words[0], words[1]), (off, off), how))
    return made


def _colour(about: str, now: "dict[str, Any] | None", then: "dict[str, Any] | None") -> "Point":
    words = [one["shown"] if one else "not there" for one in (now, then)]
    if not now or not then or not now["k"] or not then["k"]:
        return _point(about, words[0], words[1])
    off = mired_from_k(now["k"]) - mired_from_k(then["k"])
    return _compared(
        about, (words[0], words[1]), (off, off), (colour.VISIBLE_MIRED, 0, "warmer", "cooler", "mired")
    )
