"""Values in the words that people read, in metric and imperial units, and what people type back into values.

Knows no screen. V1 a figure is rounded once, here, through `rounding`. V2 a figure and its unit are
joined by a hard space, so that they never part. V3 a range is written "a to b".
"""

from tailslate.craft import exposure, quantity, units
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare, decimal_text, round_half_up, trimmed_text
from tailslate.day import kinds, place_clock
from tailslate.day.gathered import number_of
from tailslate.day.keys import room

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.kinds import Field
    from tailslate.day.place_clock import Offset

HARD_SPACE = "\u00a0"
NOT_KNOWN = "not known"
CHOICE_WORDS = {
    "last_looks": "last looks",
    "not_called": "not called",
    "on_set": "on set",
    "not_done": "not done",
}
_figures: "dict[tuple[str, str], dict[float, str]]" = {}  # written once: most of a sheet's are those of the last
DAY_MIN = 1440  # minutes in a day
METRES_PER_SECOND_IN_MPH = 0.44704  # m/s in 1 mph, exact by definition
DECIMALS = {
    "T": 1, "fps": 3, "deg": 1, "mm": 2, "C": 0, "cd": 0, "K": 0, "W": 0, "V": 0, "A": 1,
    "kg": 2, "lx": 1, "percent": 0, "ratio": 3, "m": 3, "l": 3, "Hz": 1, "Wh": 0, "h": 2, "mA": 1, "Nm": 0,
    "m/s": 1, "degC": 1, "ohm/km": 3, "1/cm": 3, "absorbance": 3, "parts": 2, "kg/l": 3, "1/s": 1,
    "mired": 0, "Duv": 4, "stop": 1, "to 1": 1,
}  # fmt: skip
TYPED_UNITS = {"m": "m", "kg": "kg", "l": "l", "lx": "lx", "cd": "cd", "K": "k", "W": "w", "A": "a",
               "V": "v", "deg": "deg", "ratio": "ratio", "m/s": "m/s", "degC": "degc",
               "mired": "mired", "stop": "stop"}  # fmt: skip
IMPERIAL = kinds.IMPERIAL
# Shares are told in percent; these are no shares of anything.
PLAIN_RATIOS = ("aspect_ratio", "squeeze_ratio", "power_factor_ratio", "depth_to_width_ratio")
PLAIN_UNITS = {
    "T": ("t/", "t"),
    "fps": ("fps", "1/s"),
    "C": ("c",),
    "mm": ("mm",),
    "percent": ("%", "percent"),
    "Hz": ("hz",),
    "Wh": ("wh",),
    "h": ("hours", "hour", "h"),
    "mA": ("ma",),
    "Nm": ("nm", "n m"),
    "ohm/km": ("ohm/km",),
    "1/cm": ("1/cm", "/cm"),
    "parts": ("parts", "part"),
    "kg/l": ("kg/l", "g/ml"),
    "g/100 g": ("g/100 g", "g"),
    "mg/100 g": ("mg/100 g", "mg"),
    "mg/kg": ("mg/kg",),
    "1/s": ("1/s", "/s", "a second"),
    "Duv": ("duv",),
    "to 1": (": 1", ":1", "to 1"),
}


def value(kind: str, field: str, held: "Any", system: str = "metric") -> str:
    """Return a value of a field as people read it; "not known" when there is none.

    Args:
        kind: kind of the record.
        field: name of the field.
        held: the value as stored.
        system: "metric" or "imperial".

    >>> value("setup", "lens_mm", ["35", "35 mm"]).replace(HARD_SPACE, " ")
    '35 mm'
    >>> value("level", "output_ratio", ["0.413", "0.413"]).replace(HARD_SPACE, " ")
    '1.3 stops down (41.3 %)'
    """
    known = kinds.field_of(kind, field)
    if held is None or held == "":
        return NOT_KNOWN
    if known and known.type == "quantity":
        number = number_of(held)
        if number is not None and known.unit == "ratio" and field not in PLAIN_RATIOS:
            return _share(number, field.startswith(("output", "transmittance")))
        return NOT_KNOWN if number is None else figure(number, known.unit, system)
    if known and known.type in ("tick", "presence"):
        if known.type == "presence":
            return "on the day" if held is True else "removed"
        return "done" if kinds.is_done(held) else "not done"
    if isinstance(held, list):
        return ", ".join([_word(part) for part in held if isinstance(part, (str, int))])
    if known and known.type in ("choice", "department"):
        return _word(held)
    return str(held)


def _share(ratio: float, is_of_light: bool) -> str:
    """Return a share in percent; of light that gets through in stops first."""
    percent = _joined(ratio * 100.0, 1, "%")
    if not is_of_light or compare(ratio, 0.0) <= 0 or compare(ratio, 1.0) >= 0:
        return percent
    stops_down = decimal_text(exposure.loss_stops(ratio), 1)
    return stops_down + (" stop" if stops_down == "1.0" else " stops") + " down (" + percent + ")"


def _word(part: "Any") -> str:
    for name, label, _short in kinds.DEPARTMENTS:
        if part == name:
            return label
    return CHOICE_WORDS.get(part, str(part))


def both(kind: str, field: str, held: "Any") -> "dict[str, str]":
    """Return a value in both systems: keys metric, imperial; the same text where the unit has no other."""
    return {"metric": value(kind, field, held), "imperial": value(kind, field, held, "imperial")}


def figure(number: float, unit: str, system: str = "metric") -> str:
    """Return a quantity with its unit.

    Args:
        number: in unit.
        unit: as the table of kinds names it: m, kg, l, lx, cd, K, W, A, V, T, fps, deg, mm, C, ...
        system: "metric" or "imperial".

    >>> figure(2.7, "m").replace(HARD_SPACE, " "), figure(0.024, "m").replace(HARD_SPACE, " ")
    ('2.7 m', '24 mm')
    >>> figure(2.7, "m", "imperial")
    '8 ft 10 in'
    """
    of_unit = _figures.get((unit, system))
    if of_unit is None:
        of_unit = _figures[(unit, system)] = {}
    known = of_unit.get(number)
    if known is None:
        room(of_unit, 200)
        known = of_unit[number] = _figure(number, unit, system)
    return known


def _figure(number: float, unit: str, system: str) -> str:
    if system == "imperial" and unit == "m":
        return units.feet_and_inches_text(number)
    if system == "imperial" and unit == "kg":
        return _joined(units.lb_from_kg(number), 1, "lb")
    if system == "imperial" and unit == "lx":
        return footcandles(units.fc_from_lx(number))
    if system == "imperial" and unit == "m/s":
        return _joined(number / METRES_PER_SECOND_IN_MPH, 1, "mph")
    if system == "imperial" and unit == "degC":
        return _trimmed(number * 9.0 / 5.0 + 32.0, 1) + HARD_SPACE + "\u00b0F"
    if unit == "degC":
        return _trimmed(number, 1) + HARD_SPACE + "\u00b0C"
    if unit == "mm" and 0 < number and compare(number, 1.0) < 0:
        return _joined(number, 4, "mm")
    if unit == "1/s":
        return _trimmed(number, 1) + " a second"
    if unit in ("absorbance", "parts"):
        return _trimmed(number, DECIMALS[unit])
    if unit == "lx":
        return lux(number)
    if unit == "m" and 0 < number and compare(number, 0.1) < 0:
        return _joined(number * 1000.0, 0, "mm")
    if unit == "l" and 0 < number and compare(number, 1.0) < 0:
        return _joined(number * 1000.0, 0, "ml")
    if unit == "T":
        return "T" + _trimmed(number, 1)
    if unit == "deg":
        return _trimmed(number, 1) + "\u00b0"
    if unit == "C":
        return "C" + HARD_SPACE + _trimmed(number, 0)
    if unit == "ratio":
        return _trimmed(number, 3)
    return _joined(number, DECIMALS.get(unit, 2), "%" if unit == "percent" else unit)


def _joined(number: float, decimals: int, unit: str) -> str:
    return "%s\u00a0%s" % (_trimmed(number, decimals), unit)


def _trimmed(number: float, decimals: int) -> str:
    text = trimmed_text(number, decimals)
    return text if len(text) < 5 or "." in text else _grouped(text)


def _grouped(digits: str) -> str:
    """Return a large whole number in groups of three, so that it can be read."""
    rest, groups = digits, ""
    while len(rest) > 3:
        rest, groups = rest[:-3], HARD_SPACE + rest[-3:] + groups
    return rest + groups


def _level_text(number: float) -> str:
    """Return a level with about the digits that a meter has: 5.5, 59, 468, 2350, 20 100."""
    if compare(number, 9.95) < 0:
        return decimal_text(number, 1)
    decimals = 0 if compare(number, 999.5) < 0 else -1 if compare(number, 9995.0) < 0 else -2
    return _trimmed(round_half_up(number, decimals), 0)


def lux(number_lx: float) -> str:
    """Return an illuminance in lux."""
    return _level_text(number_lx) + HARD_SPACE + "lx"


def footcandles(number_fc: float) -> str:
    """Return an illuminance in footcandles."""
    return _level_text(number_fc) + HARD_SPACE + "fc"


def span(low: float, high: float, unit: str) -> str:
    """Return a range of levels, "6 to 9 lx"; one figure when both ends read alike.

    Args:
        low: lower end, in unit.
        high: upper end, in unit.
        unit: "lx" or "fc".
    """
    first, last = _level_text(low), _level_text(high)
    return (first if first == last else first + " to " + last) + HARD_SPACE + unit


def stops(low: float, high: float) -> str:
    """Return how far a level lies from the target in words: "1.0 stop under", "3.8 to 4.2 under".

    Args:
        low: lower end [stop], negative is under.
        high: upper end [stop].

    >>> stops(-1.0, -1.0), stops(-4.2, -3.8), stops(-0.3, 0.5)
    ('1.0 stop under', '3.8 to 4.2 under', '0.3 under to 0.5 over')
    """
    first, last = decimal_text(low, 1), decimal_text(high, 1)
    if first == last:
        if first == "0.0":
            return "on the target"
        size = first.lstrip("-")
        word = " under" if first[0] == "-" else " over"
        return size + (" stop" if size == "1.0" else " stops") + word
    if first[0] == "-" and (last[0] == "-" or last == "0.0"):
        return last.lstrip("-") + " to " + first.lstrip("-") + " under"
    if first[0] == "-":
        return first.lstrip("-") + " under to " + last + " over"
    return first + " to " + last + " over"


def loss(low: float, high: float) -> str:
    """Return a loss in stops: "takes 1.3 to 2.0"; what gains light says so."""
    first, last = decimal_text(low, 1), decimal_text(high, 1)
    if first[0] == "-" and last[0] == "-":
        return "adds " + (last if first == last else last + " to " + first).replace("-", "")
    return "takes " + (first if first == last else first + " to " + last)


def clock(at_ms: int, utc_offset_min: "Offset") -> str:
    """Return a time of day, hours and minutes, on the place's clock.

    Args:
        at_ms: time [ms since 1970 UTC].
        utc_offset_min: minutes that the place's clock is ahead of UTC, or those from a time on.

    >>> clock(50940000, 60)
    '15:09'
    """
    minutes = (at_ms // 60000 + place_clock.ahead_min(at_ms, utc_offset_min)) % DAY_MIN
    return "{:02d}:{:02d}".format(minutes // 60, minutes % 60)


def age(at_ms: int, now_ms: int) -> str:
    """Return how long ago something was, in the largest whole unit: "2 min", "3 h", "not known".

    Args:
        at_ms: when it was [ms since 1970 UTC]; 0 is not known.
        now_ms: now [ms since 1970 UTC].
    """
    minutes = (now_ms - at_ms) // 60000
    if at_ms <= 0 or minutes < -2:  # from the future: the clocks differ, so the age is not known
        return NOT_KNOWN
    minutes = max(0, minutes)
    if minutes < 120:
        return str(minutes) + HARD_SPACE + "min"
    return (
        str(minutes // 60) + HARD_SPACE + "h" if minutes < 2880 else str(minutes // 1440) + HARD_SPACE + "d"
    )


def read_typed(kind: str, field: str, typed: str, system: str = "metric") -> "dict[str, Any]":
    """Return the value that a typed text is, ready to be set.

    Args:
        kind: kind of the record.
        field: name of a quantity field.
        typed: the text as typed, such as 6 ft 4 in, 193 cm, T2.8, 24 fps, 45 %.
        system: "metric" or "imperial": the unit of a number without one.
    Returns: dict, keys value (decimal text in the field's unit, then as typed), shown.
    Raises: RuleError as `quantity` does, or "not_a_quantity".

    >>> read_typed("setup", "camera_height_m", "193 cm")["value"]
    ['1.93', '193 cm']
    """
    known = kinds.field_of(kind, field)
    if not known or known.type != "quantity":
        raise RuleError("not_a_quantity", "{} of a {} takes no figure with a unit".format(field, kind))
    if known.unit in TYPED_UNITS:
        unit = IMPERIAL.get(known.unit, known.unit) if system == "imperial" else known.unit
        read = quantity.quantity(typed, unit=TYPED_UNITS.get(unit, unit))["value"]
    else:
        read = quantity.quantity(_bare(typed, known), unit="count")["value"]
    held = [read, typed]
    return {"value": held, "shown": value(kind, field, held, system)}


def _bare(typed: str, known: "Field") -> str:
    """Return a typed figure without the sign of a unit that has only one way to be written."""
    text = typed.strip()
    for sign in PLAIN_UNITS.get(known.unit, ()):
        if text.lower().startswith(sign):
            return text[len(sign) :].strip()
        if text.lower().endswith(sign):
            return text[: -len(sign)].strip()
    return text
