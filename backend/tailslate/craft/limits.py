"""The checks that every function of craft shares: finite, above zero, at least, within.

Each refuses with field, value, limit and next step (see errors.py); comparisons are made after
nine digits, so both Pythons refuse the same inputs. A check returns the value it was given.
"""

import math

from .errors import RuleError
from .rounding import compare, plain_text


def finite(value: float, *, field: str, unit: str, next_step: str) -> float:
    """Return value if it is a finite number, else refuse.

    Args:
        value: the number to check, in unit.
        field: its name, as the caller's argument is called.
        unit: its unit, as people write it.
        next_step: what a person can do about it.
    Returns: value, unchanged, in unit.
    Raises: RuleError "not_a_number".
    Source: [refusal-1]

    >>> finite(2.0, field="distance_m", unit="m", next_step="measure again")
    2.0
    """
    is_number = isinstance(value, (int, float)) and not isinstance(value, bool)
    if not is_number or not math.isfinite(value):
        sentence = f"{field} is not a number that can be used; {next_step}"
        raise RuleError("not_a_number", sentence, field=field, unit=unit)
    return value


def above_zero(value: float, *, field: str, unit: str, next_step: str) -> float:
    """Return value if it is above zero, else refuse.

    Args:
        value: the number to check, in unit.
        field: its name, as the caller's argument is called.
        unit: its unit, as people write it.
        next_step: what a person can do about it.
    Returns: value, unchanged, in unit.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [refusal-1]

    >>> above_zero(2.0, field="distance_m", unit="m", next_step="measure again")
    2.0
    """
    if isinstance(value, float) and 0.0 < value < math.inf:
        return value  # asked some hundred times a sheet, and nearly always so
    if finite(value, field=field, unit=unit, next_step=next_step) <= 0:
        sentence = f"{field} must be above 0 {unit}, got {plain_text(value)}; {next_step}"
        raise RuleError("not_positive", sentence, field=field, value=value, limit=0, unit=unit)
    return value


def at_least_zero(value: float, *, field: str, unit: str, next_step: str) -> float:
    """Return value if it is zero or more, else refuse.

    Args:
        value: the number to check, in unit.
        field: its name, as the caller's argument is called.
        unit: its unit, as people write it.
        next_step: what a person can do about it.
    Returns: value, unchanged, in unit.
    Raises: RuleError "not_a_number", "negative".
    Source: [refusal-1]

    >>> at_least_zero(0.0, field="gap_m", unit="m", next_step="measure again")
    0.0
    """
    if finite(value, field=field, unit=unit, next_step=next_step) < 0:
        sentence = f"{field} must be 0 {unit} or more, got {plain_text(value)}; {next_step}"
        raise RuleError("negative", sentence, field=field, value=value, limit=0, unit=unit)
    return value


def within(value: float, *, low: float, high: float, field: str, unit: str, next_step: str) -> float:
    """Return value if it lies from low to high, both included, else refuse.

    Args:
        value: the number to check, in unit.
        low: the smallest that is accepted, in unit.
        high: the largest that is accepted, in unit.
        field: its name, as the caller's argument is called.
        unit: its unit, as people write it.
        next_step: what a person can do about it.
    Returns: value, unchanged, in unit.
    Raises: RuleError "not_a_number", "outside_range".
    Source: [refusal-1]

    >>> within(0.45, low=0, high=1, field="transmittance_ratio", unit="", next_step="as a share of 1")
    0.45
    """
    finite(value, field=field, unit=unit, next_step=next_step)
    if not low <= value <= high and (compare(value, low) < 0 or compare(value, high) > 0):
        span = f"from {plain_text(low)} to {plain_text(high)} {unit}".rstrip()
        sentence = f"{field} must be {span}, got {plain_text(value)}; {next_step}"
        raise RuleError("outside_range", sentence, field=field, value=value, limit=[low, high], unit=unit)
    return value


def share(value: float, *, field: str, next_step: str = "give it as a share of 1") -> float:
    """Return value if it is a share from 0 to 1 (transmittance, reflectance), else refuse.

    Args:
        value: the share to check [ratio, 0 to 1].
        field: its name, as the caller's argument is called.
        next_step: what a person can do about it.
    Returns: value, unchanged [ratio].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [refusal-1]

    >>> share(1.0, field="reflectance_ratio")
    1.0
    """
    return within(value, low=0, high=1, field=field, unit="", next_step=next_step)
