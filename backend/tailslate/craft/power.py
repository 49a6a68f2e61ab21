"""Loads on circuits: current, breaker limit, neutral, legs. A licensed electrician decides.

Input watts, not lamp equivalents. The breaker's rating is not the continuous limit. Outlets that
nobody has mapped count as one breaker; leakage of many supplies adds up on one protective device.
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, share, within
from .rounding import compare, plain_text, total

CONTINUOUS_RATIO = 0.8  # share of a breaker for loads of three hours and more [power-1]
_MOST_STEPS = 20000  # search steps of balanced_legs; common practice, no source


def _checked_power_factor(power_factor_ratio: float) -> float:
    next_step = "read it off the lamp's plate"
    above_zero(power_factor_ratio, field="power_factor_ratio", unit="", next_step=next_step)
    return share(power_factor_ratio, field="power_factor_ratio", next_step=next_step)


def current_a(load_w: float, *, voltage_v: float, power_factor_ratio: float) -> float:
    """Return the current of a single-phase load: I = P / (V * power factor).

    Args:
        load_w: power taken from the mains [W], 0 or more.
        voltage_v: between the two conductors [V], above 0.
        power_factor_ratio: power factor [ratio, above 0 to 1].
    Returns: current [A].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [power-2]

    >>> current_a(1200.0, voltage_v=120.0, power_factor_ratio=1.0)
    10.0
    """
    at_least_zero(load_w, field="load_w", unit="W", next_step="read the input watts off the plate")
    above_zero(voltage_v, field="voltage_v", unit="V", next_step="ask the electrician")
    return load_w / (voltage_v * _checked_power_factor(power_factor_ratio))


def apparent_power_va(load_w: float, *, power_factor_ratio: float) -> float:
    """Return the apparent power that a generator must give: P / power factor.

    Args:
        load_w: power taken [W], 0 or more.
        power_factor_ratio: power factor [ratio, above 0 to 1].
    Returns: apparent power [VA].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [power-2]

    >>> apparent_power_va(900.0, power_factor_ratio=0.9)
    1000.0
    """
    at_least_zero(load_w, field="load_w", unit="W", next_step="read the input watts off the plate")
    return load_w / _checked_power_factor(power_factor_ratio)


def continuous_limit_a(breaker_a: float, *, continuous_ratio: float = CONTINUOUS_RATIO) -> float:
    """Return the current that a breaker may carry for three hours and more: 80 % of its rating.

    Args:
        breaker_a: the breaker's rating [A], above 0.
        continuous_ratio: share of the rating [ratio, above 0 to 1]; local code decides.
    Returns: current [A].
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [power-1]

    >>> continuous_limit_a(20.0)
    16.0
    """
    above_zero(breaker_a, field="breaker_a", unit="A", next_step="read it off the breaker")
    above_zero(continuous_ratio, field="continuous_ratio", unit="", next_step="0.8 is usual")
    share(continuous_ratio, field="continuous_ratio")
    return breaker_a * continuous_ratio


def largest_load_w(
    breaker_a: float,
    *,
    voltage_v: float,
    power_factor_ratio: float,
    continuous_ratio: float = CONTINUOUS_RATIO,
) -> float:
    """Return the largest continuous load of one kind on a breaker: limit * V * power factor.

    Args:
        breaker_a: the breaker's rating [A], above 0.
        voltage_v: between the two conductors [V], above 0.
        power_factor_ratio: power factor of the load [ratio, above 0 to 1].
        continuous_ratio: share of the rating [ratio, above 0 to 1].
    Returns: power [W].
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [power-1], [power-2]

    >>> largest_load_w(20.0, voltage_v=120.0, power_factor_ratio=1.0)
    1920.0
    """
    above_zero(voltage_v, field="voltage_v", unit="V", next_step="ask the electrician")
    limit_a = continuous_limit_a(breaker_a, continuous_ratio=continuous_ratio)
    return limit_a * voltage_v * _checked_power_factor(power_factor_ratio)


def is_over_limit(currents_a: list[float], *, limit_a: float) -> bool:
    """Return whether the loads on one breaker reach past its limit together.

    Args:
        currents_a: current of each load [A], 0 or more.
        limit_a: continuous limit of the breaker [A], above 0.
    Returns: True over the limit. False is no promise: inrush, heat and shared outlets are not in it.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [power-1]

    >>> is_over_limit([10.0, 6.0], limit_a=16.0), is_over_limit([10.0, 6.1], limit_a=16.0)
    (False, True)
    """
    for load_a in currents_a:
        at_least_zero(load_a, field="load_a", unit="A", next_step="work out each load's current")
    above_zero(limit_a, field="limit_a", unit="A", next_step="work out the continuous limit")
    return compare(total(currents_a), limit_a) > 0


def neutral_current_a(leg_1_a: float, *, leg_2_a: float, leg_3_a: float) -> float:
    """Return the neutral current of three resistive legs: sqrt(a2 + b2 + c2 - ab - bc - ca).

    Args:
        leg_1_a: current of the first leg [A], 0 or more.
        leg_2_a: of the second [A], 0 or more.
        leg_3_a: of the third [A], 0 or more.
    Returns: neutral current [A]; switched supplies add their third harmonics to it.
    Raises: RuleError "not_a_number", "negative".
    Source: [power-2], phasor sum

    >>> neutral_current_a(20.0, leg_2_a=20.0, leg_3_a=20.0)
    0.0
    """
    for field, leg_a in (("leg_1_a", leg_1_a), ("leg_2_a", leg_2_a), ("leg_3_a", leg_3_a)):
        at_least_zero(leg_a, field=field, unit="A", next_step="clamp each leg")
    square = (leg_1_a - leg_2_a) * (leg_1_a - leg_2_a) + (leg_2_a - leg_3_a) * (leg_2_a - leg_3_a)
    square += (leg_3_a - leg_1_a) * (leg_3_a - leg_1_a)
    return math.sqrt(square / 2.0)


def harmonic_neutral_a(third_harmonic_a: float) -> float:
    """Return the neutral current of balanced legs with third harmonics: they add, three times.

    Args:
        third_harmonic_a: third harmonic of one leg [A], 0 or more.
    Returns: neutral current [A]; it may pass a leg's own.
    Raises: RuleError "not_a_number", "negative".
    Source: [power-2]

    >>> harmonic_neutral_a(12.0)
    36.0
    """
    next_step = "clamp it with a meter that reads harmonics"
    at_least_zero(third_harmonic_a, field="third_harmonic_a", unit="A", next_step=next_step)
    return 3.0 * third_harmonic_a


def imbalance_ratio(legs_a: list[float]) -> float:
    """Return how uneven the legs are: the largest deviation from their mean, over or under it, over the mean.

    Args:
        legs_a: current of each leg [A], 0 or more, at least one above 0.
    Returns: imbalance [ratio].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [power-3]

    >>> imbalance_ratio([30.0, 20.0, 10.0])
    0.5
    """
    for leg_a in legs_a:
        at_least_zero(leg_a, field="leg_a", unit="A", next_step="clamp each leg")
    mean_a = total(legs_a) / max(1, len(legs_a))
    above_zero(mean_a, field="mean of legs", unit="A", next_step="no leg carries a load yet")
    return max([abs(leg_a - mean_a) for leg_a in legs_a]) / mean_a


def heaviest_over_mean_ratio(legs_a: list[float]) -> float:
    """Return how far the heaviest leg lies over the mean: what another split of the loads could take off it.

    Args:
        legs_a: current of each leg [A], 0 or more, at least one above 0.
    Returns: excess over the mean [ratio], 0 or more; never over imbalance_ratio, which counts a light leg too.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [power-2]

    >>> heaviest_over_mean_ratio([25.0, 25.0, 10.0])
    0.25
    """
    for leg_a in legs_a:
        at_least_zero(leg_a, field="leg_a", unit="A", next_step="clamp each leg")
    mean_a = total(legs_a) / max(1, len(legs_a))
    above_zero(mean_a, field="mean of legs", unit="A", next_step="no leg carries a load yet")
    return (max(legs_a) - mean_a) / mean_a


def balanced_legs(loads_w: list[float], *, leg_count: int = 3) -> dict[str, "list[int] | list[float] | bool"]:
    """Return a distribution of loads over legs with the smallest heaviest leg.

    Args:
        loads_w: each load [W], 0 or more, in the caller's order.
        leg_count: number of legs (a count), 1 to 6.
    Returns: dict, keys legs (leg of each load, from 0), leg_w (load of each leg [W]), is_best (False
        when the search was cut short: good, but perhaps not the best).
    Raises: RuleError "not_a_number", "negative", "outside_range".
    Source: [power-4]

    >>> balanced_legs([2000.0, 1000.0, 1000.0], leg_count=2)["leg_w"]
    [2000.0, 2000.0]
    """
    within(leg_count, low=1, high=6, field="leg_count", unit="legs", next_step="count the legs")
    for load_w in loads_w:
        at_least_zero(load_w, field="load_w", unit="W", next_step="read the input watts off the plate")
    order = sorted(range(len(loads_w)), key=lambda index: (-loads_w[index], index))
    floor_w = max(total(loads_w) / leg_count, max(loads_w, default=0.0))
    search = _LegSearch([loads_w[index] for index in order], leg_count, floor_w)
    search.place(0)
    legs = [0] * len(loads_w)
    for place, index in enumerate(order):
        legs[index] = search.best[place]
    leg_w = [
        total([load for index, load in enumerate(loads_w) if legs[index] == leg]) for leg in range(leg_count)
    ]
    return {"legs": legs, "leg_w": leg_w, "is_best": search.steps < _MOST_STEPS}


class _LegSearch:
    """Branch and bound over the loads, heaviest first; the lightest leg is tried first."""

    def __init__(self, loads_w: list[float], leg_count: int, floor_w: float) -> None:
        self.loads_w, self.floor_w, self.steps = loads_w, floor_w, 0
        self.leg_w = [0.0] * leg_count
        self.legs: list[int] = []
        self.best: list[int] = []
        self.best_w = math.inf

    def place(self, index: int) -> None:
        """Try each leg for the load at index, heaviest loads first (a count, no unit)."""
        self.steps += 1
        if index == len(self.loads_w):
            if max(self.leg_w) < self.best_w:
                self.best_w, self.best = max(self.leg_w), list(self.legs)
            return
        tried: list[float] = []
        for leg in sorted(range(len(self.leg_w)), key=lambda leg: (self.leg_w[leg], leg)):
            after_w = self.leg_w[leg] + self.loads_w[index]
            is_done = self.best and (self.best_w <= self.floor_w or self.steps >= _MOST_STEPS)
            if is_done or after_w >= self.best_w or self.leg_w[leg] in tried:
                continue
            before_w = self.leg_w[leg]
            tried.append(before_w)
            self.leg_w[leg] = after_w
            self.legs.append(leg)
            self.place(index + 1)
            self.legs.pop()
            self.leg_w[leg] = before_w


def check_leakage(leakages_ma: list[float], *, device_ma: float) -> None:
    """Refuse supplies whose leakage together may trip one residual-current device.

    A device may trip from half its rating on; three tenths is the usual limit for standing leakage.

    Args:
        leakages_ma: standing leakage of each supply [mA], 0 or more.
        device_ma: rating of the device [mA], above 0.
    Returns: nothing; silence is no promise, and the device stays in.
    Raises: RuleError "not_a_number", "negative", "not_positive", "leakage_high".
    Source: [power-5]

    >>> check_leakage([3.0, 3.0], device_ma=30.0)
    """
    for leakage_ma in leakages_ma:
        at_least_zero(leakage_ma, field="leakage_ma", unit="mA", next_step="read it off the supply's sheet")
    above_zero(device_ma, field="device_ma", unit="mA", next_step="read it off the device")
    amount, limit = total(leakages_ma), 0.3 * device_ma
    if compare(amount, limit) > 0:
        sentence = (
            f"the supplies leak {plain_text(amount)} mA together, over {plain_text(limit)} mA a {plain_text(device_ma)} "
            "mA device may trip; spread them over more devices, never bridge one"
        )
        raise RuleError("leakage_high", sentence, value=amount, limit=limit, unit="mA")
