"""Voltage lost in a cable run, and the resistance tables for it. A licensed electrician decides.

Length is one way; the current goes there and back. A coiled cable heats: unroll it. Recommended:
3 % on a branch, 5 % in all.
"""

import math

from .errors import RuleError
from .limits import above_zero, at_least_zero, within

COPPER_PER_K = 0.00393  # 1/K, temperature coefficient of copper at 20 degC [cable-2]
BRANCH_DROP_RATIO = 0.03  # share of the voltage, recommended on a branch [cable-3]
WHOLE_DROP_RATIO = 0.05  # share of the voltage, recommended in all [cable-3]
METRES_PER_KFT = 304.8  # m, exact by definition [units-1]
# ohm per 1000 ft at 75 degC, uncoated stranded copper, by AWG size [cable-1].
_OHM_PER_KFT = {
    "14": 3.14, "12": 1.98, "10": 1.24, "8": 0.778, "6": 0.491, "4": 0.308, "2": 0.194,
    "1/0": 0.122, "2/0": 0.0967, "4/0": 0.0608,
}  # fmt: skip
# ohm per km at 20 degC, flexible plain copper, class 5, by section in mm2 [cable-2].
_OHM_PER_KM = {
    "1": 19.5, "1.5": 13.3, "2.5": 7.98, "4": 4.95, "6": 3.30, "10": 1.91, "16": 1.21,
    "25": 0.780, "35": 0.554, "50": 0.386, "70": 0.272, "95": 0.206,
}  # fmt: skip


def ohm_per_m_awg(size: str) -> float:
    """Return the resistance of a stranded copper conductor at 75 degC, by AWG size.

    Args:
        size: AWG size, such as 12 or 2/0 (no unit).
    Returns: resistance [ohm/m].
    Raises: RuleError "size_unknown".
    Source: [cable-1]

    >>> round(ohm_per_m_awg("12") * 304.8, 6)
    1.98
    """
    if size not in _OHM_PER_KFT:
        raise RuleError("size_unknown", f"no resistance for AWG {size}; read the cable's sheet", size=size)
    return _OHM_PER_KFT[size] / METRES_PER_KFT


def ohm_per_m_section(section_mm2: str) -> float:
    """Return the resistance of a flexible copper conductor at 20 degC, by section.

    Args:
        section_mm2: section as printed on the cable, such as 2.5 [mm2].
    Returns: resistance [ohm/m].
    Raises: RuleError "size_unknown".
    Source: [cable-2]

    >>> round(ohm_per_m_section("2.5"), 6)
    0.00798
    """
    if section_mm2 not in _OHM_PER_KM:
        sentence = f"no resistance for {section_mm2} mm2; read the cable's sheet"
        raise RuleError("size_unknown", sentence, size=section_mm2)
    return _OHM_PER_KM[section_mm2] / 1000.0


def warm_resistance_ratio(conductor_degc: float) -> float:
    """Return how much a copper conductor's resistance grows from 20 degC: 1 + 0.00393 * (T - 20).

    Args:
        conductor_degc: temperature of the conductor under load [degC], -40 to 150.
    Returns: resistance over that at 20 degC [ratio].
    Raises: RuleError "not_a_number", "outside_range".
    Source: [cable-2]

    >>> warm_resistance_ratio(70.0)
    1.1965
    """
    next_step = "70 for a cable at its limit"
    within(conductor_degc, low=-40, high=150, field="conductor_degc", unit="degC", next_step=next_step)
    return 1.0 + COPPER_PER_K * (conductor_degc - 20.0)


def voltage_drop_v(
    load_a: float, *, length_m: float, ohm_per_m: float, is_three_phase: bool = False
) -> float:
    """Return the voltage lost in a run: 2 * L * R * I, or sqrt(3) * L * R * I between three phases.

    Args:
        load_a: current [A], 0 or more.
        length_m: length of the run, one way [m], 0 or more.
        ohm_per_m: resistance of one conductor, warm [ohm/m], above 0.
        is_three_phase: balanced three-phase load.
    Returns: voltage lost [V]; reactance is left out, small in these sizes.
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [power-2]

    >>> round(voltage_drop_v(16.0, length_m=30.48, ohm_per_m=ohm_per_m_awg("12")), 6)
    6.336
    """
    at_least_zero(load_a, field="load_a", unit="A", next_step="work out the current first")
    at_least_zero(length_m, field="length_m", unit="m", next_step="measure the run, one way")
    above_zero(ohm_per_m, field="ohm_per_m", unit="ohm/m", next_step="look the cable up by its size")
    return (math.sqrt(3.0) if is_three_phase else 2.0) * length_m * ohm_per_m * load_a


def drop_ratio(drop_v: float, *, voltage_v: float) -> float:
    """Return a voltage drop as a share of the supply; over 0.03 on a branch, 0.05 in all, shorten or thicken.

    Args:
        drop_v: voltage lost [V], 0 or more.
        voltage_v: supply [V], above 0.
    Returns: share [ratio].
    Raises: RuleError "not_a_number", "negative", "not_positive".
    Source: [cable-3]

    >>> drop_ratio(6.0, voltage_v=120.0)
    0.05
    """
    at_least_zero(drop_v, field="drop_v", unit="V", next_step="work out the drop first")
    return drop_v / above_zero(voltage_v, field="voltage_v", unit="V", next_step="ask the electrician")
