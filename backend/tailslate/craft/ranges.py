"""A figure with its spread: low, typical, high. Estimates are shown so; a reading is plain.

A range is a dict with the keys low, typical, high, in one unit, low <= typical <= high.
Knows no units: the field's name that holds a range says the unit.
"""

from .errors import RuleError
from .limits import finite
from .rounding import compare, plain_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import TypedDict

    class Range(TypedDict):
        """Low, typical and high of one quantity in one unit."""

        low: float
        typical: float
        high: float


ENDS = ("low", "typical", "high")


def range_of(low: float, typical: float, high: float, *, field: str, unit: str) -> "Range":
    """Return the range low, typical, high after checking its order.

    Args:
        low: the smallest plausible value, in unit.
        typical: the most plausible value, in unit.
        high: the largest plausible value, in unit.
        field: its name, for the refusal.
        unit: the unit of all three.
    Returns: dict, keys low, typical, high, in unit.
    Raises: RuleError "not_a_number", "order_wrong".
    Source: [refusal-1]

    >>> range_of(0.3, 0.4, 0.5, field="transmittance_ratio", unit="")["typical"]
    0.4
    """
    for value in (low, typical, high):
        finite(value, field=field, unit=unit, next_step="give low, typical and high as numbers")
    if compare(low, typical) > 0 or compare(typical, high) > 0:
        written = ", ".join([plain_text(value) for value in (low, typical, high)])
        sentence = f"{field} must rise from low over typical to high, got {written}; swap them"
        raise RuleError("order_wrong", sentence, field=field, value=[low, typical, high], unit=unit)
    return {"low": low, "typical": typical, "high": high}


def exactly(value: float) -> "Range":
    """Return the range of a value that has no spread, such as a reading.

    Args:
        value: the value, in any unit.
    Returns: dict, keys low, typical, high, all the same, in that unit.
    Raises: nothing.
    Source: [refusal-1]

    >>> exactly(2.5)["low"]
    2.5
    """
    return {"low": value, "typical": value, "high": value}
