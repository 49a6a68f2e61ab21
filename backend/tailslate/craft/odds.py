"""Uncertain times: three-point estimates, the chance to be ready, the latest of several.

A single path is optimistic: where paths meet, the latest counts. Times are taken as normal and,
where not said otherwise, as independent; a late truck that delays everybody is a task of its own.
"""

import math

from .errors import RuleError
from .limits import at_least_zero, finite
from .rounding import compare, plain_text, total

_TEN_PERCENT = 1.2815515655446004  # standard deviations to the 10 % and 90 % points [schedule-4]
_STEPS = 400  # steps of the integral of the latest's mean


def three_point_min(earliest_min: float, *, likely_min: float, latest_min: float) -> dict[str, float]:
    """Return mean and variance of a three-point estimate: (a + 4m + b) / 6, ((b - a) / 6)**2.

    Args:
        earliest_min: if all goes well [min], 0 or more.
        likely_min: the likeliest [min], not under earliest_min.
        latest_min: if all goes badly [min], not under likely_min.
    Returns: dict, keys mean_min [min] and variance_min2 [min2].
    Raises: RuleError "not_a_number", "negative", "order_wrong".
    Source: [schedule-2]

    >>> three_point_min(4.0, likely_min=6.0, latest_min=8.0)["mean_min"]
    6.0
    """
    at_least_zero(earliest_min, field="earliest_min", unit="min", next_step="give 0 min or more")
    finite(likely_min, field="likely_min", unit="min", next_step="give three times")
    finite(latest_min, field="latest_min", unit="min", next_step="give three times")
    if compare(earliest_min, likely_min) > 0 or compare(likely_min, latest_min) > 0:
        written = ", ".join([plain_text(value) for value in (earliest_min, likely_min, latest_min)])
        sentence = f"earliest, likely and latest must rise, got {written} min; swap them"
        raise RuleError("order_wrong", sentence, value=[earliest_min, likely_min, latest_min])
    spread = (latest_min - earliest_min) / 6.0
    return {
        "mean_min": (earliest_min + 4.0 * likely_min + latest_min) / 6.0,
        "variance_min2": spread * spread,
    }


def path_min(steps: list[dict[str, float]]) -> dict[str, float]:
    """Return mean and variance of steps one after another: means add, and so do variances.

    Args:
        steps: list of dict, keys mean_min [min], variance_min2 [min2].
    Returns: dict with the same keys [min, min2].
    Raises: RuleError "not_a_number".
    Source: [schedule-2]

    >>> path_min([{"mean_min": 9.0, "variance_min2": 4.0}, {"mean_min": 5.0, "variance_min2": 0.5}])["variance_min2"]
    4.5
    """
    return {
        "mean_min": total([step["mean_min"] for step in steps]),
        "variance_min2": total([step["variance_min2"] for step in steps]),
    }


def normal_ratio(deviations: float) -> float:
    """Return the share of a normal distribution at or under a point.

    Args:
        deviations: the point, in standard deviations from the mean (no unit).
    Returns: probability [ratio].
    Raises: nothing.
    Source: [schedule-4]

    >>> normal_ratio(0.0)
    0.5
    """
    return math.erfc(-deviations / math.sqrt(2.0)) / 2.0


def ready_by_ratio(due_min: float, *, mean_min: float, variance_min2: float) -> float:
    """Return the chance to be ready by a time: the normal share of (due - mean) / sd.

    Args:
        due_min: the time [min].
        mean_min: mean of the ready time [min].
        variance_min2: its variance, not its standard deviation [min2], 0 or more.
    Returns: probability [ratio].
    Raises: RuleError "not_a_number", "negative".
    Source: [schedule-2]

    >>> round(ready_by_ratio(28.0, mean_min=24.0, variance_min2=5.0), 4)
    0.9632
    """
    finite(due_min, field="due_min", unit="min", next_step="say by when")
    at_least_zero(
        variance_min2, field="variance_min2", unit="min2", next_step="work it out from the estimates"
    )
    if variance_min2 == 0.0:
        return 1.0 if compare(due_min, mean_min) >= 0 else 0.0
    return normal_ratio((due_min - mean_min) / math.sqrt(variance_min2))


def all_ready_ratio(due_min: float, *, times: list[dict[str, float]]) -> float:
    """Return the chance that all of several independent times are over: the product of their chances.

    Args:
        due_min: the time [min].
        times: list of dict, keys mean_min [min], variance_min2 [min2].
    Returns: probability [ratio]; with shared causes it lies between this and the least of them.
    Raises: RuleError "not_a_number", "negative".
    Source: [schedule-4]

    >>> all_ready_ratio(10.0, times=[{"mean_min": 10.0, "variance_min2": 1.0}] * 2)
    0.25
    """
    chance = 1.0
    for time in times:
        chance *= ready_by_ratio(due_min, mean_min=time["mean_min"], variance_min2=time["variance_min2"])
    return chance


def latest_mean_min(times: list[dict[str, float]]) -> float:
    """Return the mean of the latest of several independent times: the integral of 1 - product.

    Args:
        times: list of dict, keys mean_min [min], variance_min2 [min2]; at least one.
    Returns: mean of the latest [min].
    Raises: RuleError "not_a_number", "negative", "nothing_to_compare".
    Source: [schedule-4]

    >>> round(latest_mean_min([{"mean_min": 60.0, "variance_min2": 100.0}] * 3), 3)
    68.463
    """
    if not times:
        raise RuleError("nothing_to_compare", "no time is given; add at least one")
    # Under the start the product is 0 and over the end it is 1, to far beyond a second.
    reach = [8.0 * math.sqrt(time["variance_min2"]) for time in times]
    start = max([time["mean_min"] - reach[index] for index, time in enumerate(times)])
    end = max([time["mean_min"] + reach[index] for index, time in enumerate(times)])
    step = (end - start) / _STEPS
    parts: list[float] = []
    for index in range(_STEPS + 1):
        weight = 1.0 if index in (0, _STEPS) else 4.0 if index % 2 else 2.0
        parts.append(weight * (1.0 - all_ready_ratio(start + step * index, times=times)))
    return start + total(parts) * step / 3.0


def latest_of_two(
    one: dict[str, float], *, other: dict[str, float], covariance_min2: float = 0.0
) -> dict[str, float]:
    """Return mean and variance of the later of two times, and how much of it is the first (Clark).

    Args:
        one: dict, keys mean_min [min], variance_min2 [min2].
        other: dict with the same keys [min, min2].
        covariance_min2: their covariance, from what they share [min2].
    Returns: dict, keys mean_min [min], variance_min2 [min2], first_ratio (chance that one is the later).
    Raises: nothing.
    Source: [schedule-3], equations (2) to (4)

    >>> round(latest_of_two({"mean_min": 0.0, "variance_min2": 1.0}, other={"mean_min": 0.0, "variance_min2": 1.0})["mean_min"], 4)
    0.5642
    """
    mean, other_mean = one["mean_min"], other["mean_min"]
    square = one["variance_min2"] + other["variance_min2"] - 2.0 * covariance_min2
    if square <= 1e-12 * max(1.0, one["variance_min2"] + other["variance_min2"]):
        later = one if mean >= other_mean else other  # they move together: the later is always the later
        return {
            "mean_min": later["mean_min"],
            "variance_min2": later["variance_min2"],
            "first_ratio": 1.0 if mean >= other_mean else 0.0,
        }
    spread = math.sqrt(square)
    apart = (mean - other_mean) / spread
    density = math.exp(-apart * apart / 2.0) / math.sqrt(2.0 * math.pi)
    first = normal_ratio(apart)
    later_mean = mean * first + other_mean * (1.0 - first) + spread * density
    second = (mean * mean + one["variance_min2"]) * first
    second += (other_mean * other_mean + other["variance_min2"]) * (1.0 - first)
    second += (mean + other_mean) * spread * density
    variance = max(0.0, second - later_mean * later_mean)
    return {"mean_min": later_mean, "variance_min2": variance, "first_ratio": first}


def eight_in_ten_min(mean_min: float, *, variance_min2: float) -> dict[str, float]:
    """Return the range that a ready time falls in eight times out of ten.

    Args:
        mean_min: mean of the ready time [min].
        variance_min2: its variance [min2], 0 or more.
    Returns: dict, keys low, typical, high [min].
    Raises: RuleError "not_a_number", "negative".
    Source: [schedule-4]

    >>> round(eight_in_ten_min(60.0, variance_min2=100.0)["high"], 1)
    72.8
    """
    at_least_zero(
        variance_min2, field="variance_min2", unit="min2", next_step="work it out from the estimates"
    )
    reach = _TEN_PERCENT * math.sqrt(variance_min2)
    return {"low": mean_min - reach, "typical": mean_min, "high": mean_min + reach}
