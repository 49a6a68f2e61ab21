"""A supply of several legs: the load of each, the neutral between three. Currents -> figures.

A licensed electrician decides. The voltage of such a circuit is between a leg and the neutral. A
load of which nobody said the leg may be on any. Electronic supplies may load a neutral beyond a leg.
"""

from tailslate.craft import power
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare, decimal_text, round_up
from tailslate.day import breaker, figures, loads, names, shown
from tailslate.day.figures import UNKNOWN, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.figures import Figure, Missing
    from tailslate.day.gathered import Gathered
    from tailslate.day.loads import Load

MOST_LOADS = 60  # that are spread in one call: the search goes one call deeper for each


def of_circuit(key: str, plugged: "list[Load]", count: int, records: "Gathered") -> "list[Figure]":
    """Return the load of each leg, and the neutral when there are three.

    Args:
        key: record key of the circuit.
        plugged: as `loads.on_circuit` gives them.
        count: number of legs.
        records: the circuit.
    Returns: list of dict as in `figures.plain`.
    """
    facts = Facts(key, records)
    allowed_a, line = breaker.limit_a([facts], records)
    facts.above_zero("voltage_v", "say the voltage between leg and neutral")
    loose = [one for one in plugged if one["leg"] is None]
    unplaced = [_leg_of(one, key) for one in loose]
    found, legs_a = [], []
    for leg in range(1, count + 1):
        own = [one for one in plugged if one["leg"] == leg]
        low_a, high_a = loads.together(own)
        may_be_more = loads.together(loose)[1]
        top_a = None if high_a is None or may_be_more is None else high_a + may_be_more
        state = figures.against(low_a, top_a, allowed_a)
        if state == WITHIN and facts.number("other_w", breaker.OTHER) is None:
            state = UNKNOWN
        missing = facts.missing + unplaced + loads.missing(own + loose, factors=True)
        words = loads.words(low_a, top_a)
        found.append(
            figures.plain(
                "Leg " + str(leg),
                words,
                line,
                caution="electric",
                state=state,
                missing=missing if state == UNKNOWN else [],
                value=low_a if top_a is None else top_a,
            )
        )
        legs_a.append((low_a, top_a))
    if count == 3:
        found.append(_neutral(plugged, legs_a, unplaced))
    return found


def _leg_of(load: "Load", circuit: str) -> "Missing":
    sentence = str(load["title"]) + ": say which leg it is on"
    field = "leg" if load["record"] != circuit else "other_w"
    return {"record": load["record"], "field": field, "sentence": sentence}


def _neutral(
    plugged: "list[Load]", legs_a: "list[tuple[float, float | None]]", unplaced: "list[Missing]"
) -> "Figure":
    label, exact = "Neutral", []
    for low_a, high_a in legs_a:
        if high_a is not None and compare(low_a, high_a) == 0:
            exact.append(low_a)
    if len(exact) < 3:
        missing = unplaced + loads.missing(plugged, factors=True)
        return figures.unknown(label, missing, caution="electric")
    neutral_a = power.neutral_current_a(exact[0], leg_2_a=exact[1], leg_3_a=exact[2])
    words = shown.figure(round_up(neutral_a, 1), "A")
    line = "as plain heat"
    if compare(max(exact), 0.0) > 0:
        line += (
            "; legs differ by " + decimal_text(power.imbalance_ratio(exact) * 100.0, 0) + " % of their mean"
        )
    if [one for one in plugged if not one["is_heat"]]:
        line += "; electronic supplies add to it, it may carry more than a leg: clamp it"
        return figures.unknown(label, [], line, caution="electric", words="at least " + words)
    return figures.plain(label, words, line, caution="electric", value=neutral_a)


def spread(key: str, records: "Gathered") -> "dict[str, Any]":
    """Return the loads of a circuit spread over its legs so that the heaviest is lightest; asked for alone.

    Args:
        key: record key of the circuit.
        records: the circuit with its sources.
    Returns: dict, keys legs (list of dict, keys record, title, leg from 1), leg_w (load of each leg [W]),
        is_best (False when the search was cut short), missing (sources whose watts nobody read).
    Raises: RuleError "too_many_loads".
    """
    sources = records.pointing("source", "circuit", key)
    if len(sources) > MOST_LOADS:
        sentence = "{} loads hang on it, at most {} are spread at once; give it sub-circuits".format(
            len(sources), MOST_LOADS
        )
        raise RuleError("too_many_loads", sentence, value=len(sources), limit=MOST_LOADS)
    known, watts = [], []
    missing: list[Missing] = []
    for source in sources:
        one = Facts(source, records)
        input_w = one.number(
            "input_w", names.name_of(source, records) + ": read the input watts off the plate"
        )
        missing.extend(one.missing)
        if input_w is not None:
            known.append(source)
            watts.append(input_w)
    count = int(Facts(key, records).known("phase_count") or 3.0)
    made = power.balanced_legs(watts, leg_count=count)
    placed, legs_of = [], made["legs"]
    for place, source in enumerate(known):
        leg = legs_of[place] + 1 if isinstance(legs_of, list) else 1
        placed.append({"record": source, "title": names.name_of(source, records), "leg": leg})
    return {"legs": placed, "leg_w": made["leg_w"], "is_best": made["is_best"], "missing": missing}
