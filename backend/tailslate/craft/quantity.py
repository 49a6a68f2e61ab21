"""What a person typed -> decimal text in the stored unit, with the text as typed beside it.

Whole numbers only, so the stored text is exact where the unit is: no float is involved. What
could be read in two ways is answered with a question, never with a guess.
"""

from .errors import RuleError

# Each unit: (what it measures, factor as numerator and denominator to the stored unit).
# The first unit of a measure, with factor 1, is the stored one. Definitions [units-1].
_UNITS = {
    "m": ("length", 1, 1),
    "cm": ("length", 1, 100),
    "mm": ("length", 1, 1000),
    "ft": ("length", 3048, 10000),
    "in": ("length", 254, 10000),
    "yd": ("length", 9144, 10000),
    "kg": ("mass", 1, 1),
    "g": ("mass", 1, 1000),
    "lb": ("mass", 45359237, 100000000),
    "oz": ("mass", 45359237, 1600000000),
    "lx": ("illuminance", 1, 1),
    "fc": ("illuminance", 100000000, 9290304),
    "cd": ("intensity", 1, 1),
    "k": ("colour temperature", 1, 1),
    "mired": ("colour shift", 1, 1),
    "stop": ("stops", 1, 1),
    "deg": ("angle", 1, 1),
    "min": ("time", 1, 1),
    "s": ("time", 1, 60),
    "h": ("time", 60, 1),
    "w": ("power", 1, 1),
    "kw": ("power", 1000, 1),
    "v": ("voltage", 1, 1),
    "a": ("current", 1, 1),
    "l": ("volume", 1, 1),
    "cl": ("volume", 1, 100),
    "ml": ("volume", 1, 1000),
    "m/s": ("speed", 1, 1),
    "km/h": ("speed", 10, 36),
    "mph": ("speed", 44704, 100000),
    "kn": ("force", 1, 1),
    "n": ("force", 1, 1000),
    "degc": ("temperature", 1, 1),
    "degf": ("temperature", 5, 9),
    "ratio": ("share", 1, 1),
    "%": ("share", 1, 100),
    "count": ("count", 1, 1),
}
_STORED = {
    "length": "m", "mass": "kg", "illuminance": "lx", "intensity": "cd",
    "colour temperature": "k", "colour shift": "mired", "stops": "stop", "angle": "deg",
    "time": "min", "power": "w", "voltage": "v", "current": "a", "volume": "l",
    "speed": "m/s", "force": "kn", "temperature": "degc", "share": "ratio", "count": "count",
}  # fmt: skip
# Ways in which people write a unit. Inches before feet: two single marks are an inch mark.
_SPELLINGS = {
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "'": "ft", "foot": "ft",
    "feet": "ft", '"': "in", "inch": "in", "inches": "in", "ins": "in", "yard": "yd",
    "yards": "yd", "yds": "yd", "lbs": "lb", "pound": "lb", "pounds": "lb", "kilo": "kg",
    "kilos": "kg", "kgs": "kg", "lux": "lx", "footcandle": "fc", "footcandles": "fc",
    "candela": "cd", "kelvin": "k", "mireds": "mired", "stops": "stop", "degree": "deg",
    "degrees": "deg", "\u00b0": "deg", "mins": "min", "minute": "min", "minutes": "min",
    "sec": "s", "seconds": "s", "hour": "h", "hours": "h", "watt": "w", "watts": "w",
    "volt": "v", "volts": "v", "amp": "a", "amps": "a", "litre": "l", "litres": "l",
    "liter": "l", "liters": "l", "\u00b0c": "degc", "\u00b0f": "degf", "percent": "%",
    "ms": "m/s", "kmh": "km/h", "kph": "km/h",
}  # fmt: skip
_COMPOUND = (("ft", "in"), ("lb", "oz"), ("m", "cm"), ("h", "min"))
_MARKS = (
    ("\u2032\u2032", '"'), ("''", '"'), ("\u2033", '"'), ("\u201d", '"'), ("\u201c", '"'),
    ("\u2032", "'"), ("\u2019", "'"), ("\u2018", "'"), ("\u2212", "-"), ("\u00a0", " "),
    ("\u00bd", " 1/2"), ("\u00bc", " 1/4"), ("\u00be", " 3/4"), ("\u2153", " 1/3"),
    ("\u2154", " 2/3"),
)  # fmt: skip
_DIGITS = 12  # places after the point that are kept where a unit has no finite decimal


def _refuse(code: str, sentence: str, typed: str) -> RuleError:
    return RuleError(code, sentence, typed=typed)


def stored_unit(unit: str) -> str:
    """Return the unit in which a quantity of this unit is stored.

    Args:
        unit: a unit as listed here or as people write it, such as ft, lb or fc.
    Returns: the stored unit: m, kg, lx, cd, k, mired, stop, deg, min, w, v, a, l, m/s, kn,
        degc, ratio or count.
    Raises: RuleError "unit_unknown".
    Source: [units-1]

    >>> stored_unit("feet")
    'm'
    """
    return _STORED[_UNITS[_known_unit(unit, unit)][0]]


def _known_unit(word: str, typed: str) -> str:
    word = word.lower()
    word = _SPELLINGS.get(word, word)
    if word not in _UNITS:
        raise _refuse(
            "unit_unknown", f"the unit '{word}' is not known here; write for example m, ft or lx", typed
        )
    return word


def _pieces(text: str) -> list[str]:
    """Return text as alternating runs of number characters and unit characters."""
    pieces: list[str] = []
    kind = ""
    for mark in text:
        is_digit = mark.isdigit() or mark in ".,-+/"
        now = "space" if mark == " " else "number" if is_digit else "unit"
        if mark == "/" and kind == "unit":
            now = "unit"  # m/s and km/h
        if now == "space":
            kind = ""
        elif now == kind:
            pieces[-1] += mark
        else:
            pieces.append(mark)
            kind = now
    return pieces


def _decimal(number: str, typed: str) -> tuple[int, int]:
    """Return a typed number as numerator and denominator; a comma is a decimal mark or a question."""
    digits = number[1:] if number[0] in "+-" else number
    before, comma, after = digits.partition(",")
    if comma and "." in digits:
        raise _refuse("two_marks", f"'{number}' holds a point and a comma; write it with one mark", typed)
    if comma and len(after) == 3 and before != "" and before[0] != "0" and len(before) <= 3:
        plain = before + after
        sentence = f"is '{number}' {plain} or {before}.{after}? Write it without the comma, or with a point"
        raise _refuse("thousands_or_decimals", sentence, typed)
    if not comma:
        before, _, after = digits.partition(".")
    whole = before + after
    if not whole or not whole.isdigit() or len(whole) > 15:
        raise _refuse("not_a_number", f"'{number}' is not a number; write for example 1.93", typed)
    sign = -1 if number[0] == "-" else 1
    return sign * int(whole), 10 ** len(after)


def _fraction(number: str, typed: str) -> tuple[int, int]:
    top, _, bottom = number.partition("/")
    if not (top.isdigit() and bottom.isdigit()) or int(bottom) == 0:
        raise _refuse("not_a_number", f"'{number}' is not a fraction; write for example 1/2", typed)
    return int(top), int(bottom)


def _number(parts: list[str], typed: str) -> tuple[int, int]:
    """Return one typed number, with or without a fraction after it: 6, 6.5, 1/2, 6 1/2."""
    if len(parts) > 2 or (len(parts) == 2 and "/" not in parts[1]):
        raise _refuse("not_a_number", f"'{typed}' holds two numbers in a row; write one", typed)
    if "/" in parts[0]:
        if len(parts) == 2:
            raise _refuse("not_a_number", f"'{typed}' holds two numbers in a row; write one", typed)
        negative = parts[0][0] == "-"
        top, bottom = _fraction(parts[0][1:] if parts[0][0] in "+-" else parts[0], typed)
        return (-top if negative else top), bottom
    top, bottom = _decimal(parts[0], typed)
    if len(parts) == 2:
        extra, over = _fraction(parts[1], typed)
        extra = -extra if parts[0][0] == "-" else extra
        top, bottom = top * over + extra * bottom, bottom * over
    return top, bottom


def _amounts(typed: str, unit: str) -> list[tuple[int, int, str]]:
    """Return each number in the text with its unit: numerator, denominator, unit."""
    text = typed
    for written, plain in _MARKS:
        text = text.replace(written, plain)
    amounts: list[tuple[int, int, str]] = []
    numbers: list[str] = []
    for piece in _pieces(text):
        if piece[0].isdigit() or piece[0] in ".,-+/":
            numbers.append(piece)
        elif not numbers:
            raise _refuse(
                "not_a_number", f"'{typed}' has a unit without a number; write the number before it", typed
            )
        else:
            amounts.append(_number(numbers, typed) + (_known_unit(piece, typed),))
            numbers = []
    if numbers:
        # 6 ft 4 reads as 6 ft 4 in, as it is said; 2 m 5 stays a question.
        last = "in" if amounts and amounts[-1][2] == "ft" else unit
        if amounts and last != "in":
            raise _refuse("mixed_units", f"'{typed}' has a number without a unit; name its unit", typed)
        amounts.append(_number(numbers, typed) + (last,))
    return amounts


def _text(top: int, bottom: int) -> str:
    """Return top / bottom as decimal text, exact where it ends within twelve places."""
    scaled = (2 * abs(top) * 10**_DIGITS + bottom) // (2 * bottom)
    digits = str(scaled)
    digits = "0" * (_DIGITS + 1 - len(digits)) + digits
    text = digits[: len(digits) - _DIGITS] + "." + digits[len(digits) - _DIGITS :]
    text = text.rstrip("0").rstrip(".")
    return "-" + text if top < 0 and scaled else text


def quantity(typed: str, *, unit: str) -> dict[str, str]:
    """Return what was typed as decimal text in the stored unit, with the text beside it.

    Args:
        typed: the text of one field, such as 6 ft 4 in, 193 cm, 1,93 m, 6'4", 5 1/2 in, 45 %.
        unit: the unit in which a bare number is read; the field's measure follows from it.
    Returns: dict of text, keys value (decimal, in unit), unit (the stored unit), as_typed.
    Raises: RuleError "blank", "not_a_number", "two_marks", "thousands_or_decimals",
        "unit_unknown", "unit_not_for_field", "mixed_units".
    Source: [units-1]

    >>> quantity("6 ft 4 in", unit="m")["value"], quantity("12", unit="ft")["value"]
    ('1.9304', '3.6576')
    """
    if not typed.strip():
        raise _refuse("blank", "the field is empty; type a number with its unit, or leave it unknown", typed)
    reading = _known_unit(unit, typed)
    measure = _UNITS[reading][0]
    amounts = _amounts(typed, reading)
    if len(amounts) > 1 and tuple([name for _, _, name in amounts]) not in _COMPOUND:
        raise _refuse("mixed_units", f"'{typed}' mixes units; write it in one, or as feet and inches", typed)
    if len(amounts) > 1 and amounts[1][0] < 0:
        raise _refuse("mixed_units", f"'{typed}' has a minus inside; write it before the first number", typed)
    sign = -1 if typed.strip()[0] in "-\u2212" else 1
    top, bottom = 0, 1
    for numerator, denominator, name in amounts:
        found, factor_top, factor_bottom = _UNITS[name]
        if found != measure:
            sentence = (
                f"'{typed}' is a {found}, and the field holds a {measure}; write it in {_STORED[measure]}"
            )
            raise _refuse("unit_not_for_field", sentence, typed)
        if name == "degf":
            numerator = sign * abs(numerator) - 32 * denominator
            sign = 1 if numerator >= 0 else -1
        part_top, part_bottom = abs(numerator) * factor_top, denominator * factor_bottom
        top, bottom = top * part_bottom + part_top * bottom, bottom * part_bottom
    return {"value": _text(sign * top, bottom), "unit": _STORED[measure], "as_typed": typed}
