"""Rounding, counts, comparisons and sums that come out alike on CPython and MicroPython.

The two differ in the last place of sin, exp and pow, in round(), in formatting and in sum().
So a figure is first settled to nine significant digits, with + - * / and whole numbers only
(those agree bit for bit); what is shown, counted or compared starts from there. Halves go away
from zero; where a side is the careful one, say which: round_up, round_down, count_up.
"""

import math

from .errors import RuleError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable

SIGNIFICANT_DIGITS = 9  # common practice, no source: far above any meter, far below a double


def _powers_of_ten() -> list[float]:
    powers = [1.0]
    for _ in range(22):  # 10**22 is the last power that a double holds exactly
        powers.append(powers[-1] * 10.0)
    return powers


_POWERS = _powers_of_ten()
_TEN_DIGITS = 10**SIGNIFICANT_DIGITS  # the first number with a digit too many


def nine_digits(value: float) -> tuple[int, int]:
    """Return value as whole numbers (mantissa, exponent): mantissa * 10**exponent.

    Args:
        value: any finite number, in any unit.
    Returns: mantissa of nine digits (0 for zero) with the sign, and the exponent (no unit).
    Raises: RuleError "not_a_number" for nan and infinity.
    Source: [rounding-1]

    >>> nine_digits(2.675)
    (267500000, -8)
    >>> nine_digits(0.1 + 0.2) == nine_digits(0.3)
    True
    """
    if not math.isfinite(value):
        raise RuleError("not_a_number", "a figure is not a finite number; enter it again")
    size = abs(value) * 1.0
    if size == 0.0:
        return 0, 0
    exponent = 0
    while size < 1e-14:
        size, exponent = size * _POWERS[22], exponent - 22
    while size >= 1e31:
        size, exponent = size / _POWERS[22], exponent + 22
    if size >= 1e9:
        steps = 0
        while size / _POWERS[steps] >= 1e9:
            steps += 1
        mantissa, exponent = math.floor(size / _POWERS[steps] + 0.5), exponent + steps
    else:
        # No fewer steps can do; each one tried costs the phone a look, a product and a new number.
        steps = 9 if size < 1.0 else 8 if size < 10.0 else 5 if size < 1e4 else 0
        while size * _POWERS[steps] < 1e8:
            steps += 1
        mantissa, exponent = math.floor(size * _POWERS[steps] + 0.5), exponent - steps
    if mantissa == _TEN_DIGITS:
        mantissa, exponent = mantissa // 10, exponent + 1
    return (mantissa if value > 0 else -mantissa), exponent


def settled(value: float) -> float:
    """Return value at nine significant digits, the same double on both Pythons.

    Args:
        value: any finite number, in any unit.
    Returns: the nearest number of nine digits, in the same unit.
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> settled(3.9999999999)
    4.0
    """
    mantissa, exponent = nine_digits(value)
    amount = mantissa * 1.0
    while exponent > 22:
        amount, exponent = amount * _POWERS[22], exponent - 22
    while exponent < -22:
        amount, exponent = amount / _POWERS[22], exponent + 22
    return amount * _POWERS[exponent] if exponent >= 0 else amount / _POWERS[-exponent]


def compare(value: float, limit: float) -> int:
    """Return -1, 0 or 1: value under, at or over limit, after nine digits on both.

    Args:
        value: any finite number, in any unit.
        limit: the threshold, in the same unit as value.
    Returns: -1, 0 or 1 (no unit).
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> compare(0.1 + 0.2, 0.3)
    0
    """
    apart = value - limit
    if abs(apart) > 2e-8 * max(abs(value), abs(limit)):
        return 1 if apart > 0 else -1  # more than one step of the ninth digit: no need to settle them
    mantissa, exponent = nine_digits(value)
    other_mantissa, other_exponent = nine_digits(limit)
    shared = min(exponent, other_exponent)
    left: int = mantissa * 10 ** (exponent - shared)
    right: int = other_mantissa * 10 ** (other_exponent - shared)
    return (left > right) - (left < right)


def total(values: "Iterable[float]") -> float:
    """Return the sum of values, the same for every order and on both Pythons.

    Args:
        values: finite numbers, in any unit, the same for all.
    Returns: the compensated sum (Neumaier), in the same unit.
    Raises: RuleError "not_a_number".
    Source: [rounding-2]

    >>> total([1e16, 1.0, -1e16])
    1.0
    """
    amount = 0.0
    lost = 0.0
    for value in sorted(values):
        if not math.isfinite(value):
            raise RuleError("not_a_number", "a sum holds a figure that is not a finite number")
        larger = amount + value
        lost += (amount - larger) + value if abs(amount) >= abs(value) else (value - larger) + amount
        amount = larger
    return amount + lost


def _whole(value: float, digits: int, side: str) -> int:
    """Return value * 10**digits as a whole number, rounded to side: half, up or down."""
    mantissa, exponent = nine_digits(value)
    shift = exponent + digits
    if shift >= 0:
        raised: int = mantissa * 10**shift
        return raised
    divisor: int = 10**-shift
    if side == "up":
        return -(-mantissa // divisor)
    if side == "down":
        return mantissa // divisor
    size, rest = divmod(abs(mantissa), divisor)
    if rest >= divisor - rest:  # twice the rest would be too large for a quick number on the phone
        size += 1
    return size if mantissa >= 0 else -size


def _number(whole: int, digits: int) -> float:
    return whole / 10**digits if digits >= 0 else float(whole * 10**-digits)


def decimal_text(value: float, digits: int, *, signed: bool = False) -> str:
    """Return value as plain decimal text with so many decimals, halves away from zero.

    Args:
        value: any finite number, in any unit.
        digits: decimals to show (a count), 0 or more (fewer count as 0).
        signed: also write a plus sign before what is above zero.
    Returns: text without thousands marks; a rounded zero has no sign.
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> decimal_text(2.675, 2), decimal_text(-0.04, 1), decimal_text(0.25, 1, signed=True)
    ('2.68', '0.0', '+0.3')
    """
    digits = max(0, digits)
    whole = _whole(value, digits, "half")
    return _written(whole, digits, "+" if signed and whole > 0 else "")


def trimmed_text(value: float, digits: int) -> str:
    """Return value as `decimal_text` does, without zeros at the end of its decimals.

    Args:
        value: any finite number, in any unit.
        digits: decimals at most (a count), 0 or more (fewer count as 0).
    Returns: text without thousands marks.
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> trimmed_text(2.5, 3), trimmed_text(1200.0, 2), trimmed_text(0.0, 1)
    ('2.5', '1200', '0')
    """
    digits = max(0, digits)
    whole = _whole(value, digits, "half")
    while digits and whole % 10 == 0:
        whole, digits = whole // 10, digits - 1
    return _written(whole, digits, "")


def _written(whole: int, digits: int, sign: str) -> str:
    """Return whole / 10**digits as text, in one piece: texts are what costs most on the phone."""
    if not digits:
        return sign + str(whole) if sign else str(whole)
    unit: int = 10**digits
    size = abs(whole)
    return "%s%d.%0*d" % ("-" if whole < 0 else sign, size // unit, digits, size % unit)


def round_half_up(value: float, digits: int) -> float:
    """Return value rounded to so many decimals, halves away from zero.

    Args:
        value: any finite number, in any unit.
        digits: decimals to keep (a count); negative for tens, hundreds.
    Returns: the rounded number, in the same unit.
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> round_half_up(0.125, 2), round_half_up(2.675, 2), round_half_up(1250.0, -2)
    (0.13, 2.68, 1300.0)
    """
    return _number(_whole(value, digits, "half"), digits)


def round_up(value: float, digits: int) -> float:
    """Return value rounded upwards: the careful side for a load, a current, a need.

    Args:
        value: any finite number, in any unit.
        digits: decimals to keep (a count); negative for tens, hundreds.
    Returns: the rounded number, never under the settled value, in the same unit.
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> round_up(12.4541, 1), round_up(3.0000000000001, 0)
    (12.5, 3.0)
    """
    return _number(_whole(value, digits, "up"), digits)


def round_down(value: float, digits: int) -> float:
    """Return value rounded downwards: the careful side for a limit, a reserve, a time left.

    Args:
        value: any finite number, in any unit.
        digits: decimals to keep (a count); negative for tens, hundreds.
    Returns: the rounded number, never over the settled value, in the same unit.
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> round_down(4.0165, 1), round_down(3.9999999999999, 0)
    (4.0, 4.0)
    """
    return _number(_whole(value, digits, "down"), digits)


def count_up(value: float) -> int:
    """Return how many whole pieces (bags, rolls, blocks) cover value.

    Args:
        value: how many pieces it takes, as a fraction, 0 or more (no unit).
    Returns: the next whole number (a count); a hair over a whole one, below nine digits, adds none.
    Raises: RuleError "not_a_number", "negative".
    Source: [rounding-1]

    >>> count_up(4.92), count_up(5.0000000000001), count_up(5.001)
    (5, 5, 6)
    """
    if nine_digits(value)[0] < 0:
        raise RuleError("negative", "a count of pieces is below 0; check the amounts it comes from")
    return _whole(value, 0, "up")


def plain_text(value: float) -> str:
    """Return value at nine digits or fewer, without trailing zeros, for sentences.

    Args:
        value: any finite number, in any unit.
    Returns: decimal text, alike on both Pythons.
    Raises: RuleError "not_a_number".
    Source: [rounding-1]

    >>> plain_text(0.30000000000000004), plain_text(1200.0), plain_text(-1.5)
    ('0.3', '1200', '-1.5')
    """
    return trimmed_text(value, -nine_digits(value)[1])
