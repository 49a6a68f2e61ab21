"""What is plugged into a circuit, in amperes, as far as it is known. Records -> currents with two ends.

Knows no breaker. Everything plugged in counts, burning or not, at full output. An unknown power
factor is a range; an unknown power or voltage has no upper end.
"""

from tailslate.craft import power
from tailslate.craft.rounding import compare, round_up, total
from tailslate.day import names, shown
from tailslate.day.figures import Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

    Load = dict[str, Any]

LOWEST_POWER_FACTOR = 0.5  # supplies without correction (common practice, no source)


def on_circuit(key: str, records: "Gathered") -> "list[Load]":
    """Return what is plugged into a circuit.

    Args:
        key: record key of the circuit.
        records: the circuit with its sources.
    Returns: list of dict, keys record (a source, or the circuit for its other things), title, low_a, high_a
        (None is open), leg (None is not known), is_heat (takes its current as plain heat does), missing.
    """
    facts = Facts(key, records)
    voltage_v = facts.above_zero("voltage_v", "say the voltage")
    found = [_source(source, voltage_v, records) for source in records.pointing("source", "circuit", key)]
    other_w = facts.known("other_w")
    if other_w is not None and compare(other_w, 0.0) > 0:
        found.append(_load(key, "other things", other_w, None, voltage_v))
    return found


def _source(source: str, voltage_v: "float | None", records: "Gathered") -> "Load":
    facts = Facts(source, records)
    name = names.name_of(source, records)
    input_w = facts.number("input_w", name + ": read the input watts off the plate")
    factor = facts.number("power_factor_ratio", name + ": read the power factor off the plate")
    made = _load(source, name, input_w, factor, voltage_v)
    made["leg"] = records.whole(source, "leg")
    made["missing"] = facts.missing
    return made


def _load(
    key: str, title: str, input_w: "float | None", factor: "float | None", voltage_v: "float | None"
) -> "Load":
    made: Load = {"record": key, "title": title, "low_a": 0.0, "high_a": None, "leg": None, "missing": []}
    made["is_heat"] = factor is not None and compare(factor, 0.98) >= 0
    if input_w is not None and voltage_v is not None:
        for end, assumed in (("low_a", 1.0), ("high_a", LOWEST_POWER_FACTOR)):
            made[end] = power.current_a(input_w, voltage_v=voltage_v, power_factor_ratio=factor or assumed)
    return made


def together(loads: "list[Load]") -> "tuple[float, float | None]":
    """Return the current of loads together: lower and upper end [A], the upper None when one is open."""
    ends = [one["high_a"] for one in loads if one["high_a"] is not None]
    return total([one["low_a"] for one in loads]), total(ends) if len(ends) == len(loads) else None


def words(low_a: float, high_a: "float | None") -> str:
    """Return a current in words: "4.4 A", "2.2 to 4.4 A", "at least 2.2 A".

    Args:
        low_a: lower end [A].
        high_a: upper end [A], None is open.
    """
    first = shown.figure(round_up(low_a, 1), "A")
    if high_a is None:
        return "at least " + first
    last = shown.figure(round_up(high_a, 1), "A")
    return first if first == last else first[: first.find(shown.HARD_SPACE)] + " to " + last


def missing(loads: "list[Load]", *, factors: bool) -> "list[dict[str, str]]":
    """Return what nobody filled in about loads.

    Args:
        loads: as `on_circuit` gives them.
        factors: with the power factors, which matter when the range decides.
    """
    found = []
    for one in loads:
        found.extend([two for two in one["missing"] if factors or two["field"] != "power_factor_ratio"])
    return found
