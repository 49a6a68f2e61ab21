"""Lengths of tape together, in rolls of a stated length. Records -> what to bring.

Knows no jobs. Rolls are counted up; of a roll whose length nobody stated only metres are known.
"""

from tailslate.craft import tape
from tailslate.craft.rounding import round_up, total
from tailslate.day import figures, names, shown
from tailslate.day.figures import OVER, PLAIN, UNKNOWN, WITHIN, Facts

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from tailslate.day.gathered import Gathered

NO_ROLL = "tape of which nobody said the roll"


def together(lengths: "list[tuple[str, float | None]]", records: "Gathered") -> "list[dict[str, Any]]":
    """Return what comes off each roll.

    Args:
        lengths: record key of the roll ("" when nobody said) and length [m] of each job, None is not known.
        records: the rolls.
    Returns: list of dict, keys record, title, figure (dict as in `figures.plain`).
    """
    found = []
    for key in sorted({roll for roll, _m in lengths}):
        known = [m for roll, m in lengths if roll == key and m is not None]
        is_open = len(known) < len([1 for roll, _m in lengths if roll == key])
        name = names.name_of(key, records) if key else NO_ROLL
        figure = _figure(key, total(known), is_open, records) if known else _no_length()
        found.append({"record": key, "title": name, "figure": figure})
    return found


def _no_length() -> "dict[str, Any]":
    missing = [{"record": "", "field": "length_m", "sentence": "no length of these jobs is known yet"}]
    return figures.unknown("Tape", missing, words=shown.NOT_KNOWN)


def _figure(key: str, needed_m: float, is_open: bool, records: "Gathered") -> "dict[str, Any]":
    length = ("at least " if is_open else "") + shown.figure(round_up(needed_m, 1), "m", records.units)
    if not key:
        missing = [{"record": "", "field": "roll", "sentence": "say off which roll of the kit each comes"}]
        return figures.unknown("Tape", missing, words=length)
    facts = Facts(key, records)
    roll_m = facts.number("roll_m", "read the length off the roll")
    if roll_m is None:
        return figures.unknown("Tape", facts.missing, words=length)
    count, there = tape.roll_count(needed_m, roll_m=roll_m), facts.known("count")
    words = ("at least " if is_open else "") + str(count) + (" roll" if count == 1 else " rolls")
    line = (
        length + ", rolls of " + shown.figure(roll_m, "m", records.units) + figures.from_words(key, records)
    )
    if there is None:
        return figures.plain("Tape", words, line, state=UNKNOWN if is_open else PLAIN, value=count)
    state = OVER if int(there) < count else UNKNOWN if is_open else WITHIN
    return figures.plain("Tape", words, str(int(there)) + " there; " + line, state=state, value=count)
