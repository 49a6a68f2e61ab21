"""Sources that run off batteries: how long, and how many it takes for the day. Records -> figures.

Lithium cells charge in sight. What the cold leaves is never assumed: without a word it is not known.
A source without hours of its own must last from call to wrap.
"""

from tailslate.craft import battery
from tailslate.craft.rounding import count_up, round_down
from tailslate.day import cautions, figures, names, shown
from tailslate.day.figures import OVER, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.figures import Figure
    from tailslate.day.gathered import Gathered

COLD = "say what share the cold leaves: 1 in the warm, about 0.5 near -18 °C, by chemistry"
DAY_MIN = 1440


def has_any(source: str, records: "Gathered") -> bool:
    """Tell whether a source runs off batteries."""
    return records.number(source, "energy_wh") is not None or bool(records.whole(source, "batteries"))


def of_source(source: str, records: "Gathered") -> "dict[str, Any]":
    """Return the battery figures of a source.

    Args:
        source: record key of the source.
        records: the source, and the day for its hours.
    Returns: dict, keys record, title, figures (runs for, batteries), caution.
    """
    asked = (source, records)
    found = [
        figures.tried("Runs for", _runs_for, *asked, caution="battery"),
        figures.tried("Batteries", _needed, *asked, caution="battery"),
    ]
    return {
        "record": source,
        "title": names.name_of(source, records),
        "figures": found,
        "caution": cautions.caution("battery"),
    }


def _shares(facts: Facts) -> "dict[str, float] | None":
    """Return what a battery gives, None when a fact is missing."""
    found = {"energy_wh": facts.number("energy_wh", "read the energy off the battery")}
    found["usable_ratio"] = facts.number("usable_ratio", "say what share of it is usable; 0.8 is usual")
    found["cold_ratio"] = facts.number("cold_ratio", COLD)
    known = {name: found[name] for name in found if found[name] is not None}
    if len(known) < len(found):
        return None
    converter = facts.known("converter_ratio")
    made = {name: value * 1.0 for name, value in known.items() if value is not None}
    made["converter_ratio"] = 1.0 if converter is None else converter
    return made


def hours_needed(source: str, records: "Gathered") -> "tuple[float | None, str]":
    """Return how long a source must run [h], and why: its own word, or call to wrap of the day.

    Args:
        source: record key of the source.
        records: the source, and the day.
    """
    own_h = records.number(source, "run_h")
    if own_h is not None:
        return own_h, "for the hours it must run"
    days = records.of_kind("day")
    call, wrap = [
        _minutes(records.text(days[0], field)) if days else None for field in ("call_time", "wrap_time")
    ]
    if call is None or wrap is None:
        return None, ""
    return ((wrap - call) % DAY_MIN) / 60.0, "from call to wrap"


def _minutes(text: str) -> "int | None":
    """Return minutes since midnight of a time such as 07:12."""
    return int(text[:2]) * 60 + int(text[3:5]) if len(text) == 5 else None


def _runs_for(source: str, records: "Gathered") -> "Figure":
    facts, label = Facts(source, records), "Runs for"
    load_w, shares = facts.number("input_w", "read the input watts off the plate"), _shares(facts)
    if load_w is None or shares is None:
        return figures.unknown(label, facts.missing, caution="battery")
    one_h = battery.run_time_h(load_w, **shares)
    words = shown.figure(round_down(one_h, 1), "h") + " a battery"
    line = "usable share and cold taken off" + figures.from_words(source, records)
    return figures.plain(label, words, line, caution="battery", value=one_h)


def _needed(source: str, records: "Gathered") -> "Figure":
    facts, label = Facts(source, records), "Batteries"
    load_w, shares = facts.number("input_w", "read the input watts off the plate"), _shares(facts)
    time_h, why = hours_needed(source, records)
    if time_h is None:
        facts.miss("run_h", "say how long it must run, or set call and wrap of the day")
    if load_w is None or shares is None or time_h is None:
        return figures.unknown(label, facts.missing, caution="battery")
    count = count_up(battery.blocks_needed(load_w, time_h=time_h, **shares))
    on_hand = facts.known("batteries")
    words = str(count) + " for " + shown.figure(time_h, "h")
    line = why + "; charging between is not counted"
    if on_hand is None:
        facts.miss("batteries", "say how many there are")
        return figures.unknown(label, facts.missing, line, caution="battery", words=words)
    line = str(int(on_hand)) + " there; " + line
    state = WITHIN if int(on_hand) >= count else OVER
    return figures.plain(label, words, line, caution="battery", state=state, value=count)
