"""Loads over people: sling legs, breaking loads, what a slack safety sees. Arithmetic only.

A competent person plans every lift; local codes come first. Each head and each accessory has a
safety of its own, with no slack: a drop of a hand's breadth is tens of times the weight.
"""

import math

from .limits import above_zero, at_least_zero, within
from .stand import GRAVITY_M_S2


def sling_tension_n(
    load_kg: float,
    *,
    sling_from_horizontal_deg: float,
    leg_count: int = 2,
    gravity_m_s2: float = GRAVITY_M_S2,
) -> float:
    """Return the pull in each of two sling legs: W / (2 * sin(angle)). More legs are not trusted to share.

    Args:
        load_kg: everything that hangs [kg], 0 or more.
        sling_from_horizontal_deg: leg above the horizontal [deg], above 0 to 90; under 30 is not done.
        leg_count: 1 (straight down) to 8 (a count); beyond two only two are counted.
        gravity_m_s2: acceleration of gravity [m/s2], above 0.
    Returns: tension in each leg [N].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [rigging-1]; two of three or four legs carry: common practice, no source

    >>> round(sling_tension_n(60.0, sling_from_horizontal_deg=40.0, gravity_m_s2=9.81), 2)
    457.85
    """
    at_least_zero(load_kg, field="load_kg", unit="kg", next_step="weigh everything that hangs")
    next_step = "measure the leg's angle above the horizontal"
    above_zero(sling_from_horizontal_deg, field="sling_from_horizontal_deg", unit="deg", next_step=next_step)
    within(
        sling_from_horizontal_deg,
        low=0,
        high=90,
        field="sling_from_horizontal_deg",
        unit="deg",
        next_step=next_step,
    )
    within(leg_count, low=1, high=8, field="leg_count", unit="legs", next_step="count the legs")
    above_zero(gravity_m_s2, field="gravity_m_s2", unit="m/s2", next_step="9.80665 on earth")
    carrying = min(2, leg_count)
    return load_kg * gravity_m_s2 / (carrying * math.sin(math.radians(sling_from_horizontal_deg)))


def minimum_breaking_load_n(
    load_kg: float, *, design_ratio: float, gravity_m_s2: float = GRAVITY_M_S2
) -> float:
    """Return the breaking load that a part over people must have: m * g * design factor.

    Args:
        load_kg: everything that hangs [kg], 0 or more.
        design_ratio: design factor [ratio], 1 to 20: 5 for slings, 10 over people, by local code.
        gravity_m_s2: acceleration of gravity [m/s2], above 0.
    Returns: minimum breaking load [N].
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [rigging-3]

    >>> round(minimum_breaking_load_n(18.0, design_ratio=5.0, gravity_m_s2=9.81), 1)
    882.9
    """
    at_least_zero(load_kg, field="load_kg", unit="kg", next_step="weigh everything that hangs")
    within(design_ratio, low=1, high=20, field="design_ratio", unit="", next_step="5 or 10, by local code")
    above_zero(gravity_m_s2, field="gravity_m_s2", unit="m/s2", next_step="9.80665 on earth")
    return load_kg * gravity_m_s2 * design_ratio


def safety_peak_n(
    load_kg: float, *, drop_m: float, stiffness_n_m: float, gravity_m_s2: float = GRAVITY_M_S2
) -> float:
    """Return the peak pull when a load drops into its safety: m*g * (1 + sqrt(1 + 2*h*k / (m*g))).

    Args:
        load_kg: what falls [kg], above 0.
        drop_m: slack of the safety [m], 0 or more; even 0 doubles the weight.
        stiffness_n_m: of safety and anchor together [N/m], above 0.
        gravity_m_s2: acceleration of gravity [m/s2], above 0.
    Returns: peak force [N].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [rigging-1], energy balance

    >>> round(safety_peak_n(10.0, drop_m=0.0, stiffness_n_m=100000.0, gravity_m_s2=10.0), 1)
    200.0
    """
    above_zero(load_kg, field="load_kg", unit="kg", next_step="weigh what may fall")
    at_least_zero(drop_m, field="drop_m", unit="m", next_step="measure the slack")
    above_zero(stiffness_n_m, field="stiffness_n_m", unit="N/m", next_step="read the rope's sheet")
    above_zero(gravity_m_s2, field="gravity_m_s2", unit="m/s2", next_step="9.80665 on earth")
    weight_n = load_kg * gravity_m_s2
    return weight_n * (1.0 + math.sqrt(1.0 + 2.0 * drop_m * stiffness_n_m / weight_n))
