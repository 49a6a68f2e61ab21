"""The load on a breaker and what may still be plugged in. Currents -> figures.

A licensed electrician decides. Outlets that nobody mapped count as one breaker, the smallest of theirs,
and never come out within; nor does a circuit of which nobody said what else is plugged in. Nobody said
that a load is short: it counts as continuous.
"""

from tailslate.craft import power
from tailslate.craft.rounding import compare, round_down
from tailslate.day import figures, loads, names, shown
from tailslate.day.figures import OVER, UNKNOWN, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.figures import Figure, Missing
    from tailslate.day.gathered import Gathered
    from tailslate.day.loads import Load

MAP_IT = "map its outlets: switch the breaker off and see what goes dark"
OTHER = "say what else is plugged in, kettle and heater too; 0 W for nothing"


def is_mapped(key: str, records: "Gathered") -> bool:
    """Tell whether someone said that a circuit's outlets are mapped."""
    return records.text(key, "mapped") == "yes"


def counted_as_one(key: str, place: "list[str]", records: "Gathered") -> "list[str]":
    """Return the circuits that count as one breaker with this one, itself first.

    Args:
        key: record key of the circuit.
        place: record keys of the circuits of the place, sorted.
        records: the circuits.
    """
    if is_mapped(key, records):
        return [key]
    return [key] + [one for one in place if one != key and not is_mapped(one, records)]


def limit_a(facts: "list[Facts]", records: "Gathered") -> "tuple[float | None, str]":
    """Return what may flow through circuits that count as one [A], and how that came about.

    Args:
        facts: of each circuit; what they lack is in their missing.
        records: the circuits.
    """
    breakers = [one.number("breaker_a", "read the rating off the breaker") for one in facts]
    known = [one for one in breakers if one is not None]
    if len(known) < len(facts):
        return None, "the breaker's rating is not known"
    smallest_a = min(known)
    line = shown.figure(smallest_a, "A") + " breaker"
    if [one for one in facts if records.text(one.key, "continuous") != "no"]:
        allowed_a = power.continuous_limit_a(smallest_a)
        return allowed_a, shown.figure(
            allowed_a, "A"
        ) + " may flow: 80 % of the " + line + ", for three hours and more"
    return smallest_a, line + ", loaded for less than three hours"


def of_circuit(key: str, on_it: "dict[str, list[Load]]", records: "Gathered") -> "list[Figure]":
    """Return the load and what is left of a single-phase circuit.

    Args:
        key: record key of the circuit.
        on_it: loads by record key of each circuit of the place, as `loads.on_circuit` gives them.
        records: the circuits of the place.
    Returns: list of dict as in `figures.plain`: load, one more.
    """
    keys = counted_as_one(key, sorted(on_it), records)
    facts = [Facts(one, records) for one in keys]
    plugged: list[Load] = []
    for one in keys:
        plugged.extend(on_it[one])
    low_a, high_a = loads.together(plugged)
    allowed_a, line = limit_a(facts, records)
    state = figures.against(low_a, high_a, allowed_a)
    missing: list[Missing] = []
    if not is_mapped(key, records):
        line += "; " + _mapping_words(keys, records)
        if state == WITHIN:
            state = UNKNOWN  # what else hangs on it is not known
        facts[0].miss("mapped", MAP_IT)
    for fact in facts:
        fact.above_zero("voltage_v", "say the voltage")
        if fact.number("other_w", OTHER) is None and state == WITHIN:
            state = UNKNOWN
        missing.extend(fact.missing)
    missing.extend(loads.missing(plugged, factors=state == UNKNOWN))
    value = low_a if high_a is None else high_a
    words = loads.words(low_a, high_a)
    load = figures.plain(
        "Load",
        words,
        line,
        caution="electric",
        state=state,
        missing=missing if state == UNKNOWN else [],
        value=value,
    )
    return [load, _one_more(low_a, high_a, allowed_a, facts[0], missing, state)]


def _mapping_words(keys: "list[str]", records: "Gathered") -> str:
    if len(keys) == 1:
        return "nobody mapped its outlets: others may hang on the same breaker"
    others = ", ".join([names.name_of(one, records) for one in keys[1:]])
    return "nobody mapped its outlets: counts as one breaker with " + others


def _one_more(
    low_a: float,
    high_a: "float | None",
    allowed_a: "float | None",
    facts: Facts,
    missing: "list[Missing]",
    state: str,
) -> "Figure":
    label, voltage_v = "One more", facts.known("voltage_v")
    if allowed_a is not None and compare(low_a, allowed_a) >= 0:
        line = "whatever is plugged in next passes the limit"
        return figures.plain(label, "nothing", line, caution="electric", state=OVER)
    if allowed_a is None or high_a is None or voltage_v is None or compare(high_a, allowed_a) >= 0:
        return figures.unknown(label, missing, "what is on it is not known well enough", caution="electric")
    left_a = allowed_a - high_a
    words = "trips over " + shown.figure(round_down(left_a, 1), "A")
    line = shown.figure(round_down(left_a * voltage_v, 0), "W")
    line += " of plain heat, such as a kettle; fewer watts of most lamps"
    if state == UNKNOWN:
        return figures.unknown(label, missing, line, caution="electric", words=words)
    return figures.plain(label, words, line, caution="electric", value=left_a)
