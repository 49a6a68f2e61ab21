"""A stand's balance: boom and counterweight, tipping edge, sandbags. Arithmetic only.

A competent key grip decides; local codes come first. A stand with n legs tips over the line
between two feet, nearer than the feet themselves. Bags are figured for the worst direction.
Always: tall leg under the load, bag off the floor, nobody under a boom that is being trimmed.
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, finite, within
from .rounding import compare, count_up, plain_text

GRAVITY_M_S2 = 9.80665  # m/s2, standard gravity [rigging-1]
SLEW_DEG = 15.0  # deg, how far an arm may swing unseen (common practice, no source)


def counterweight_kg(
    load_kg: float,
    *,
    load_arm_m: float,
    weight_arm_m: float,
    boom_kg: float = 0.0,
    boom_centre_m: float = 0.0,
) -> float:
    """Return the counterweight of a boom: (load * arm + boom * centre) / weight arm. Tilt cancels.

    Args:
        load_kg: what hangs on the long end, with its accessories [kg], 0 or more.
        load_arm_m: pivot to load along the boom [m], above 0.
        weight_arm_m: pivot to counterweight along the boom [m], above 0.
        boom_kg: the boom itself [kg], 0 or more.
        boom_centre_m: pivot to the boom's own centre, on the load side [m]; below 0 on the other.
    Returns: counterweight [kg]; below 0 when the boom alone is too heavy behind.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [rigging-1]

    >>> counterweight_kg(4.5, load_arm_m=1.6, weight_arm_m=0.8, boom_kg=3.0, boom_centre_m=0.35)
    10.3125
    """
    at_least_zero(load_kg, field="load_kg", unit="kg", next_step="weigh the lamp with its accessories")
    at_least_zero(boom_kg, field="boom_kg", unit="kg", next_step="weigh the boom")
    finite(boom_centre_m, field="boom_centre_m", unit="m", next_step="balance the boom on a finger")
    above_zero(load_arm_m, field="load_arm_m", unit="m", next_step="measure pivot to load")
    above_zero(weight_arm_m, field="weight_arm_m", unit="m", next_step="measure pivot to counterweight")
    return (load_kg * load_arm_m + boom_kg * boom_centre_m) / weight_arm_m


def holding_moment_nm(load_kg: float, *, load_arm_m: float) -> float:
    """Return what a head or knuckle must hold: m * g * arm, level, where it is largest.

    Args:
        load_kg: what hangs on the arm, with its share of the arm [kg], 0 or more.
        load_arm_m: knuckle to load, level [m], 0 or more.
    Returns: moment [N m]; only the maker's rating at that extension says whether it holds.
    Raises: RuleError "not_a_number", "negative".
    Source: [rigging-1]

    >>> holding_moment_nm(2.0, load_arm_m=0.5)
    9.80665
    """
    at_least_zero(load_kg, field="load_kg", unit="kg", next_step="weigh the lamp with its accessories")
    at_least_zero(load_arm_m, field="load_arm_m", unit="m", next_step="measure knuckle to load")
    return load_kg * GRAVITY_M_S2 * load_arm_m


def _checked_legs(leg_count: int) -> int:
    within(leg_count, low=3, high=12, field="leg_count", unit="legs", next_step="a stand needs three or more")
    return leg_count


def tipping_edge_m(leg_radius_m: float, *, leg_count: int = 3) -> float:
    """Return how far from the column a stand's tipping edge lies: R * cos(pi / n). Three legs: R / 2.

    Args:
        leg_radius_m: column to foot, along the floor [m], above 0.
        leg_count: number of legs (a count), spread evenly, 3 to 12.
    Returns: distance [m], to the line between two feet.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [rigging-1]

    >>> round(tipping_edge_m(0.55), 6)
    0.275
    """
    above_zero(leg_radius_m, field="leg_radius_m", unit="m", next_step="measure column to foot")
    return leg_radius_m * math.cos(math.pi / _checked_legs(leg_count))


def _towards_edge(leg_count: int, from_leg_deg: float | None, slew_deg: float) -> float:
    """Return the cosine between the arm and the nearest edge's normal, after the worst slew."""
    if from_leg_deg is None:
        return 1.0
    step_deg = 360.0 / leg_count
    from_leg_deg = abs(math.fmod(from_leg_deg, step_deg))
    from_leg_deg = min(from_leg_deg, step_deg - from_leg_deg)
    return math.cos(math.radians(max(0.0, step_deg / 2.0 - from_leg_deg - slew_deg)))


def bag_kg(
    load_kg: float,
    *,
    offset_m: float,
    stand_kg: float,
    leg_radius_m: float,
    leg_count: int = 3,
    safety_ratio: float = 1.5,
    from_leg_deg: float | None = None,
    slew_deg: float = SLEW_DEG,
    bag_arm_m: float | None = None,
) -> float:
    """Return the sandbag weight that holds an offset load: SF * m * (e - r) = M * r + b * arm.

    0 means that the sum asks for none; hang one all the same (common practice, no source). The sum
    knows no wind, slope, soft ground, or push: those are decided on the floor.

    Args:
        load_kg: what hangs off the column [kg], 0 or more.
        offset_m: column to load, along the floor [m], 0 or more.
        stand_kg: the stand itself [kg], 0 or more.
        leg_radius_m: column to foot, along the floor [m], above 0.
        leg_count: number of legs (a count), 3 to 12.
        safety_ratio: safety factor on the load's moment [ratio], 1 to 10.
        from_leg_deg: arm to the nearest leg, from above [deg]; None, the default, is the worst direction.
        slew_deg: how far the arm may swing from there [deg], 0 or more; 15 where not locked.
        bag_arm_m: bag to tipping edge [m], above 0; None hangs it on the column.
    Returns: weight of sandbags [kg], 0 or more; round up.
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [rigging-1], safety factor [rigging-2]

    >>> round(bag_kg(6.0, offset_m=0.9, stand_kg=8.0, leg_radius_m=0.55), 3)
    12.455
    """
    moment = _overturning(
        load_kg,
        offset_m=offset_m,
        stand_kg=stand_kg,
        leg_radius_m=leg_radius_m,
        leg_count=leg_count,
        safety_ratio=safety_ratio,
        from_leg_deg=from_leg_deg,
        slew_deg=slew_deg,
    )
    arm_m = tipping_edge_m(leg_radius_m, leg_count=leg_count) if bag_arm_m is None else bag_arm_m
    above_zero(arm_m, field="bag_arm_m", unit="m", next_step="measure bag to the line between two feet")
    return max(0.0, moment / arm_m)


def _overturning(
    load_kg: float,
    *,
    offset_m: float,
    stand_kg: float,
    leg_radius_m: float,
    leg_count: int,
    safety_ratio: float,
    from_leg_deg: float | None,
    slew_deg: float,
) -> float:
    """Return the moment that tips, less the one that holds [kg m]; above 0 it needs a bag."""
    at_least_zero(load_kg, field="load_kg", unit="kg", next_step="weigh the lamp with its accessories")
    at_least_zero(offset_m, field="offset_m", unit="m", next_step="measure column to load")
    at_least_zero(stand_kg, field="stand_kg", unit="kg", next_step="weigh the stand")
    at_least_zero(slew_deg, field="slew_deg", unit="deg", next_step="15 where the arm is not locked")
    next_step = "1.5 is usual; under 1 it tips"
    within(safety_ratio, low=1, high=10, field="safety_ratio", unit="", next_step=next_step)
    edge_m = tipping_edge_m(leg_radius_m, leg_count=leg_count)
    reach_m = offset_m * _towards_edge(leg_count, from_leg_deg, slew_deg)
    if reach_m <= edge_m:  # inside the base the load holds the stand down; not counted as help
        return -stand_kg * edge_m
    return safety_ratio * load_kg * (reach_m - edge_m) - stand_kg * edge_m


def needs_no_bag(
    load_kg: float,
    *,
    offset_m: float,
    stand_kg: float,
    leg_radius_m: float,
    leg_count: int = 3,
    safety_ratio: float = 1.5,
) -> bool:
    """Return whether the stand's own weight holds the load by the sum alone, in the worst direction.

    Args:
        load_kg: what hangs off the column [kg], 0 or more.
        offset_m: column to load, along the floor [m], 0 or more.
        stand_kg: the stand itself [kg], 0 or more.
        leg_radius_m: column to foot, along the floor [m], above 0.
        leg_count: number of legs (a count), 3 to 12.
        safety_ratio: safety factor on the load's moment [ratio], 1 to 10.
    Returns: True when the sum asks for no bag. It is no promise: bag it all the same.
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [rigging-1]

    >>> needs_no_bag(6.0, offset_m=0.2, stand_kg=8.0, leg_radius_m=0.55)
    True
    """
    moment = _overturning(
        load_kg,
        offset_m=offset_m,
        stand_kg=stand_kg,
        leg_radius_m=leg_radius_m,
        leg_count=leg_count,
        safety_ratio=safety_ratio,
        from_leg_deg=None,
        slew_deg=0.0,
    )
    return compare(moment, 0.0) <= 0


def bag_count(weight_kg: float, *, each_kg: float) -> int:
    """Return how many bags make a weight, at least one: every stand gets a bag.

    Args:
        weight_kg: sandbag weight by the sum [kg], 0 or more.
        each_kg: one bag [kg], above 0.
    Returns: bags (a count), rounded up.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [rigging-1]; at least one is common practice, no source

    >>> bag_count(12.45, each_kg=7.0), bag_count(0.0, each_kg=7.0)
    (2, 1)
    """
    at_least_zero(weight_kg, field="weight_kg", unit="kg", next_step="work out the bag weight first")
    above_zero(each_kg, field="each_kg", unit="kg", next_step="weigh one bag")
    return max(1, count_up(weight_kg / each_kg))


def check_rating(load: float, *, rating: float | None, unit: str, what: str) -> None:
    """Refuse a load over a rating, and a part whose rating nobody knows.

    Args:
        load: what it has to hold, in unit, 0 or more.
        rating: the maker's working load limit at this extension, in unit; None is not known.
        unit: kg or kn, of both.
        what: the part, for the sentence: the head, the arm, the sling.
    Returns: nothing; silence is no promise, a competent person decides.
    Raises: RuleError "not_a_number", "negative", "not_positive", "rating_unknown", "over_rating".
    Source: [rigging-2]

    >>> check_rating(8.0, rating=10.0, unit="kg", what="the stand")
    """
    at_least_zero(load, field="load", unit=unit, next_step="weigh it")
    if rating is None:
        sentence = f"{what} has no known rating; find the maker's plate, or do not load it"
        raise RuleError("rating_unknown", sentence, what=what, value=load, unit=unit)
    above_zero(rating, field="rating", unit=unit, next_step="read the maker's plate")
    if compare(load, rating) > 0:
        sentence = (
            f"{what} holds {plain_text(rating)} {unit}, the load is {plain_text(load)} {unit}; "
            "take a stronger part or split the load"
        )
        raise RuleError("over_rating", sentence, what=what, value=load, limit=rating, unit=unit)
