"""Batteries: energy, run time, blocks for a day. Cold and age are inputs: nothing here knows them.

Lithium cells charge in sight, away from exits and cloth (common practice). Air travel has limits.
"""

from .limits import above_zero, at_least_zero, share
from .rounding import compare

AIR_TRAVEL_FREE_WH = 100.0  # Wh, in hand luggage without approval [battery-2]
AIR_TRAVEL_APPROVED_WH = 160.0  # Wh, with the airline's approval [battery-2]


def battery_energy_wh(voltage_v: float, *, charge_ah: float) -> float:
    """Return the nominal energy of a battery: V * Ah.

    Args:
        voltage_v: nominal voltage [V], above 0.
        charge_ah: nominal charge [Ah], above 0.
    Returns: energy [Wh].
    Raises: RuleError "not_a_number", "not_positive".
    Source: [power-2]

    >>> battery_energy_wh(26.0, charge_ah=9.0)
    234.0
    """
    above_zero(voltage_v, field="voltage_v", unit="V", next_step="read it off the battery")
    return voltage_v * above_zero(
        charge_ah, field="charge_ah", unit="Ah", next_step="read it off the battery"
    )


def _usable_wh(energy_wh: float, usable_ratio: float, cold_ratio: float, converter_ratio: float) -> float:
    above_zero(energy_wh, field="energy_wh", unit="Wh", next_step="read it off the battery")
    ratios = (
        ("usable_ratio", usable_ratio),
        ("cold_ratio", cold_ratio),
        ("converter_ratio", converter_ratio),
    )
    for field, ratio in ratios:
        share(above_zero(ratio, field=field, unit="", next_step="a share of 1"), field=field)
    return energy_wh * usable_ratio * cold_ratio * converter_ratio


def run_time_h(
    load_w: float, *, energy_wh: float, usable_ratio: float, cold_ratio: float, converter_ratio: float = 1.0
) -> float:
    """Return how long a battery carries a load: energy * usable * cold * converter / load.

    Args:
        load_w: power of the load [W], above 0.
        energy_wh: nominal energy [Wh], above 0.
        usable_ratio: share that may be used [ratio, above 0 to 1].
        cold_ratio: share left in the cold [ratio, above 0 to 1]; about 0.5 near -18 degC, by chemistry.
        converter_ratio: efficiency of a converter between [ratio, above 0 to 1].
    Returns: time [h]; round down.
    Raises: RuleError "not_a_number", "not_positive", "outside_range".
    Source: [battery-1]

    >>> run_time_h(60.0, energy_wh=240.0, usable_ratio=1.0, cold_ratio=0.5)
    2.0
    """
    usable_wh = _usable_wh(energy_wh, usable_ratio, cold_ratio, converter_ratio)
    return usable_wh / above_zero(load_w, field="load_w", unit="W", next_step="read it off the plate")


def blocks_needed(
    load_w: float,
    *,
    time_h: float,
    energy_wh: float,
    usable_ratio: float,
    cold_ratio: float,
    converter_ratio: float = 1.0,
) -> float:
    """Return how many batteries carry a load for a time, as a fraction; count_up makes whole ones.

    Args:
        load_w: power of the load [W], 0 or more.
        time_h: how long [h], 0 or more.
        energy_wh: nominal energy of one battery [Wh], above 0.
        usable_ratio: share that may be used [ratio, above 0 to 1].
        cold_ratio: share left in the cold [ratio, above 0 to 1].
        converter_ratio: efficiency of a converter between [ratio, above 0 to 1].
    Returns: batteries (no unit).
    Raises: RuleError "not_a_number", "negative", "not_positive", "outside_range".
    Source: [battery-1]

    >>> blocks_needed(50.0, time_h=6.0, energy_wh=100.0, usable_ratio=1.0, cold_ratio=0.5)
    6.0
    """
    at_least_zero(load_w, field="load_w", unit="W", next_step="read it off the plate")
    at_least_zero(time_h, field="time_h", unit="h", next_step="say how long it must run")
    return load_w * time_h / _usable_wh(energy_wh, usable_ratio, cold_ratio, converter_ratio)


def air_travel_rule(energy_wh: float) -> str:
    """Return how a battery may fly in hand luggage; the airline decides.

    Args:
        energy_wh: nominal energy [Wh], above 0.
    Returns: free, approval, or refused.
    Raises: RuleError "not_a_number", "not_positive".
    Source: [battery-2]

    >>> air_travel_rule(98.0), air_travel_rule(150.0)
    ('free', 'approval')
    """
    above_zero(energy_wh, field="energy_wh", unit="Wh", next_step="read it off the battery")
    if compare(energy_wh, AIR_TRAVEL_FREE_WH) <= 0:
        return "free"
    return "approval" if compare(energy_wh, AIR_TRAVEL_APPROVED_WH) <= 0 else "refused"
