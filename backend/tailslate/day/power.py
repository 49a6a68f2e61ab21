"""The power of a shot: circuits with what is on them, voltage drop, leakage, batteries. Records -> figures.

Knows no light. A licensed electrician decides. A source that nobody plugged in is named. What is not
confirmed of a protective device is not known, whatever the sums say.
"""

from tailslate.craft import cable
from tailslate.craft import power as craft_power
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import compare, decimal_text, round_up, total
from tailslate.day import batteries, breaker, cautions, figures, legs, loads, names, rows, shown
from tailslate.day.figures import OVER, UNKNOWN, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered
    from tailslate.day.loads import Load

WARM_DEGC = 70.0  # degC, a cable at its limit [cable-2]; the table by AWG is at 75
METRES_PER_KM = 1000.0


def of_shot(shot: str, records: "Gathered") -> "dict[str, Any]":
    """Return the power of a shot.

    Args:
        shot: record key of the shot.
        records: the shot with what it reads.
    Returns: dict, keys circuits (list of dict, keys record, title, figures, loads (list of dict, keys record,
        title, shown, burning, from), caution), batteries (list of dict, keys record (a source), title, figures,
        caution), nowhere (list of dict, keys record, field, sentence: sources that nobody plugged in).
    """
    burning = rows.sources(shot, records)
    keys: set[str] = set()
    cells, nowhere = [], []
    for source in burning:
        circuit = records.target(source, "circuit")
        if records.is_there(circuit):
            keys.add(circuit)
        elif batteries.has_any(source, records):
            cells.append(batteries.of_source(source, records))
        else:
            facts = Facts(source, records)
            facts.miss("circuit", names.name_of(source, records) + ": say which circuit it is on")
            nowhere.extend(facts.missing)
    on_it = {}
    for key in _place(shot, keys, records):
        on_it[key] = loads.on_circuit(key, records)
    made = [_circuit(key, burning, on_it, records) for key in sorted(keys)]
    return {"circuits": made, "batteries": cells, "nowhere": nowhere}


def _place(shot: str, keys: "set[str]", records: "Gathered") -> "set[str]":
    """Return the circuits of the place: those of the shot, and of all sources of its scene."""
    found, scene = set(keys), records.target(shot, "scene")
    for source in records.pointing("source", "scene", scene) if scene else ():
        circuit = records.target(source, "circuit")
        if records.is_there(circuit):
            found.add(circuit)
    return found


def _circuit(
    key: str, burning: "list[str]", on_it: "dict[str, list[Load]]", records: "Gathered"
) -> "dict[str, Any]":
    phases = records.whole(key, "phase_count") or 1
    found: list[Figure] = []
    try:
        if phases == 1:
            found.extend(breaker.of_circuit(key, on_it, records))
        else:
            found.extend(legs.of_circuit(key, on_it[key], phases, records))
    except RuleError as error:
        found.append(figures.unknown("Load", [], error.sentence, caution="electric"))
    found.append(figures.tried("Voltage drop", _drop, key, on_it[key], records, caution="electric"))
    found.append(figures.tried("Leakage", _leakage, key, records, caution="electric"))
    caution = cautions.of_circuit(key, records)
    if records.text(key, "residual_current_protected") != "yes":
        facts = Facts(key, records)
        facts.miss("residual_current_protected", "have the residual-current device tested, then say so")
        line = "nobody confirmed a residual-current device"
        found.append(figures.unknown("Protection", facts.missing, line, caution=caution["code"]))
    told = []
    for one in on_it[key]:
        is_burning = one["record"] in burning
        amperes = loads.words(one["low_a"], one["high_a"])
        load = {"record": one["record"], "title": one["title"], "shown": amperes, "burning": is_burning}
        load["from"] = records.text(one["record"], "figures_from") if one["record"] != key else ""
        told.append(load)
    return {
        "record": key,
        "title": names.name_of(key, records),
        "figures": found,
        "loads": told,
        "caution": caution,
    }


def _ohm_per_m(facts: Facts) -> "tuple[float | None, str]":
    """Return the resistance of one warm conductor, measured or by size, and where it is from."""
    measured = facts.known("cable_ohm_per_km")
    if measured is not None:
        return measured / METRES_PER_KM, "measured"
    size = facts.records.text(facts.key, "cable_size")
    if size.endswith(" AWG"):
        return cable.ohm_per_m_awg(size[:-4]), size + ", at 75 °C"
    if size.endswith(" mm2"):
        cold = cable.ohm_per_m_section(size[:-4])
        return cold * cable.warm_resistance_ratio(WARM_DEGC), size + ", at 70 °C"
    facts.miss("cable_size", "read the cable's size off its sheath")
    return None, ""


def _drop(key: str, plugged: "list[Load]", records: "Gathered") -> "Figure":
    """Return the voltage lost on the way; of several legs the heaviest, as if it were alone."""
    facts, label = Facts(key, records), "Voltage drop"
    voltage_v = facts.above_zero("voltage_v", "say the voltage")
    length_m = facts.number("cable_length_m", "measure the run, one way")
    ohm_per_m, size = _ohm_per_m(facts)
    if voltage_v is None or length_m is None or ohm_per_m is None:
        return figures.unknown(label, facts.missing, caution="electric")
    low_a, high_a = _heaviest(plugged, records.whole(key, "phase_count") or 1)
    ratios = []
    for load_a in (low_a, low_a if high_a is None else high_a):
        drop_v = cable.voltage_drop_v(load_a, length_m=length_m, ohm_per_m=ohm_per_m)
        ratios.append(cable.drop_ratio(drop_v, voltage_v=voltage_v))
    state = figures.against(ratios[0], None if high_a is None else ratios[1], cable.BRANCH_DROP_RATIO)
    words = decimal_text(round_up(drop_v, 1), 1) + shown.HARD_SPACE + "V, "
    words += decimal_text(round_up(ratios[1] * 100.0, 1), 1) + shown.HARD_SPACE + "%"
    line = loads.words(low_a, high_a) + " through " + shown.figure(length_m, "m", records.units)
    line += " one way, " + size + "; unroll it" + figures.from_words(key, records)
    missing = loads.missing(plugged, factors=True) if state == UNKNOWN else []
    if compare(ratios[0], cable.WHOLE_DROP_RATIO) > 0:
        line = "over the 5 % recommended in all: shorter, thicker or less on it; " + line
    elif state == OVER:
        line = "over the 3 % recommended on a branch; " + line
    if high_a is None:
        words = "at least " + words
    return figures.plain(
        label, words, line, caution="electric", state=state, missing=missing, value=ratios[1]
    )


def _heaviest(plugged: "list[Load]", phases: int) -> "tuple[float, float | None]":
    """Return the current of the heaviest leg; what has no leg may be on any."""
    if phases == 1:
        return loads.together(plugged)
    lows, highs = [], []
    for leg in range(1, phases + 1):
        low_a = loads.together([one for one in plugged if one["leg"] == leg])[0]
        lows.append(low_a)
        highs.append(loads.together([one for one in plugged if one["leg"] in (leg, None)])[1])
    known = [one for one in highs if one is not None]
    return max(lows), max(known) if len(known) == len(highs) else None


def _leakage(key: str, records: "Gathered") -> "Figure":
    facts, label = Facts(key, records), "Leakage"
    device_ma = facts.number("device_ma", "read the residual-current device's rating")
    leaks_ma, missing = [], []
    for source in records.pointing("source", "circuit", key):
        one = Facts(source, records)
        leak_ma = one.number(
            "leakage_ma", names.name_of(source, records) + ": read its leakage off its sheet"
        )
        if leak_ma is not None:
            leaks_ma.append(leak_ma)
        missing.extend(one.missing)
    if compare(facts.known("other_w") or 0.0, 0.0) > 0:
        other_ma = facts.number("other_leakage_ma", "say what the other things leak")
        leaks_ma.extend([other_ma] if other_ma is not None else [])
    missing = facts.missing + missing
    words = shown.figure(round_up(total(leaks_ma), 1), "mA")
    words = "at least " + words if missing else words
    if device_ma is None:
        return figures.unknown(label, missing, caution="electric", words=words)
    try:
        craft_power.check_leakage(leaks_ma, device_ma=device_ma)
    except RuleError as error:
        if error.code != "leakage_high":
            raise
        return figures.plain(label, words, error.sentence, caution="electric", state=OVER)
    if missing:
        return figures.unknown(label, missing, caution="electric", words=words)
    line = "under three tenths of the " + shown.figure(device_ma, "mA") + " device, by the sheets"
    return figures.plain(label, words, line, caution="electric", state=WITHIN, value=total(leaks_ma))
