"""A meter reading against the model: correct a source's model once, carry the reading on.

A reading is plain and outranks the model until something before it changes. After a change the
reading moves by the model's ratio, so what the model does not know of the lamp cancels out.
"""

from .exposure import stops_between
from .limits import above_zero, at_least_zero

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .ranges import Range


def correction_ratio(reading_lx: float, *, modelled_lx: "Range") -> float:
    """Return what a source's model has to be multiplied with to meet a reading.

    Args:
        reading_lx: the source alone, at the modelled point and facing [lx], above 0.
        modelled_lx: range, keys low, typical, high [lx], typical above 0.
    Returns: correction [ratio].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [reading-1]

    >>> correction_ratio(300.0, modelled_lx={"low": 200.0, "typical": 400.0, "high": 600.0})
    0.75
    """
    above_zero(reading_lx, field="reading_lx", unit="lx", next_step="read the source alone")
    typical = modelled_lx["typical"]
    return reading_lx / above_zero(typical, field="modelled_lx", unit="lx", next_step="check the set-up")


def is_within_model(reading_lx: float, *, modelled_lx: "Range") -> bool:
    """Return whether a reading lies in the modelled range; if not, a fact of the set-up is wrong.

    Args:
        reading_lx: the source alone [lx], 0 or more.
        modelled_lx: range, keys low, typical, high [lx].
    Returns: True inside the range, ends included.
    Raises: RuleError "not_a_number", "negative".
    Source: [reading-1]

    >>> is_within_model(300.0, modelled_lx={"low": 200.0, "typical": 400.0, "high": 600.0})
    True
    """
    at_least_zero(reading_lx, field="reading_lx", unit="lx", next_step="read the meter again")
    return modelled_lx["low"] <= reading_lx <= modelled_lx["high"]


def level_after_change_lx(
    reading_lx: float, *, modelled_then_lx: "Range", modelled_now_lx: "Range"
) -> "Range":
    """Return the level to expect now, from a reading taken before a change and the model of both.

    Each end of the model gives its own ratio; what is unknown in the same way then and now cancels.

    Args:
        reading_lx: the source alone, before the change [lx], 0 or more.
        modelled_then_lx: range for the set-up of the reading, keys low, typical, high [lx], above 0.
        modelled_now_lx: range for the set-up now, with the same keys [lx], 0 or more.
    Returns: range [lx], keys low, typical, high.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [reading-1]

    >>> then = {"low": 200.0, "typical": 400.0, "high": 600.0}
    >>> now = {"low": 100.0, "typical": 200.0, "high": 300.0}
    >>> level_after_change_lx(320.0, modelled_then_lx=then, modelled_now_lx=now)["typical"]
    160.0
    """
    at_least_zero(reading_lx, field="reading_lx", unit="lx", next_step="read the meter again")
    pairs = (
        (modelled_now_lx["low"], modelled_then_lx["low"]),
        (modelled_now_lx["typical"], modelled_then_lx["typical"]),
        (modelled_now_lx["high"], modelled_then_lx["high"]),
    )
    levels: list[float] = []
    for now_lx, then_lx in pairs:
        above_zero(then_lx, field="modelled_then_lx", unit="lx", next_step="check the set-up of the reading")
        levels.append(
            reading_lx
            * at_least_zero(now_lx, field="modelled_now_lx", unit="lx", next_step="check it")
            / then_lx
        )
    return {"low": min(levels), "typical": levels[1], "high": max(levels)}


def range_stops(level_lx: "Range", *, reference_lx: float) -> "Range":
    """Return a range of levels as stops from a target.

    Args:
        level_lx: range, keys low, typical, high [lx], above 0.
        reference_lx: the target [lx], above 0.
    Returns: range [stop], below 0 when under.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [exposure-3]

    >>> range_stops({"low": 100.0, "typical": 200.0, "high": 400.0}, reference_lx=200.0)
    {'low': -1.0, 'typical': 0.0, 'high': 1.0}
    """
    return {
        "low": stops_between(level_lx["low"], reference=reference_lx),
        "typical": stops_between(level_lx["typical"], reference=reference_lx),
        "high": stops_between(level_lx["high"], reference=reference_lx),
    }
